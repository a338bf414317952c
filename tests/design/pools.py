"""A sound design with every kind of part, as Python values; tests break it in their own ways."""

from __future__ import annotations

from typing import Any


def everything() -> dict[str, Any]:
    """Return a new pool, in millimetres, that has every part but the other shapes."""
    return {
        "name": "Everything",
        "units": "mm",
        "tolerance": 2,
        "freeboard": "6 in",
        "outline": {
            "shape": "polygon",
            "points": [[0, 0], [10_000, 0], ["10 m", 5000], [0, 5000]],
            "corner_radius": [500, 0, 0, 500],
        },
        "floor": {
            "shape": "breaks",
            "direction": 0,
            "origin": [0, 0],
            "breaks": [{"at": 3000, "depth": 1200}, {"at": 8000, "depth": 1800}],
        },
        "cove": {"radius": 75, "also_at": ["risers", "bench faces"]},
        "bench": [
            {"name": "east", "start": [10_000, 500], "end": "13 m", "width": 450, "depth": 450},
        ],
        "steps": [
            {"shape": "end", "direction": 0, "going": 300, "risers": 4, "top_tread": 240},
            {"shape": "side", "at": [5000, 0], "width": 1500, "going": 280, "rise": 200},
            {"shape": "following", "start": 12_000, "end": 14_000, "going": 280, "risers": 3},
        ],
        "spas": [
            {
                "name": "whirl",
                "outline": {"shape": "circle", "radius": 1000, "centre": [8000, 5000]},
                "raised": 300,
                "depth": 900,
                "seats": [{"start": 0, "end": 5000, "width": 400, "depth": 450}],
                "wells": [
                    {
                        "outline": {"shape": "circle", "radius": 200, "centre": [8000, 5000]},
                        "depth": 1100,
                    }
                ],
                "spillways": [{"at": [8000, 4000], "width": 600, "drop": 20}],
                "cove": {"radius": 50},
            }
        ],
        "fittings": [
            {"kind": "main drain", "point": [6500, 1500], "width": 200, "height": "8 in"},
            {"kind": "return inlet", "start": "2 m", "end": [4000, 0], "count": 2, "depth": 450},
        ],
        "walls": [{"start": 1000, "end": 2000, "height": 600}],
        "recess": [{"width": 50, "depth": 250}],
        "shell": {
            "wall": 200,
            "beam": {"width": 300, "depth": 300},
            "footing": {"projection": 200, "thickness": 200},
            "thickened_edge": {"width": 400, "depth": 200},
        },
        "setting": "suspended",
    }


OUTLINES: tuple[dict[str, Any], ...] = (
    {"shape": "polygon", "points": [[0, 0], [9000, 0], [0, 9000]], "corner_radius": 100},
    {"shape": "rectangle", "length": "8 m", "width": 4000, "rotation": -30},
    {"shape": "polyline", "points": [[0, 0, 0.4], [9000, 0], [9000, 4000, -0.2], [0, 4000]]},
    {"shape": "spline", "points": [[0, 0], [9000, 0], [9000, 4000], [0, 4000]]},
    {"shape": "ellipse", "length": 9000, "width": "12'", "rotation": 15.5},
    {"shape": "circle", "radius": 4000},
)
"""One of each shape, in millimetres."""

FLOORS: tuple[dict[str, Any], ...] = (
    {"shape": "level", "depth": 1500},
    {"shape": "plane", "depth": 1200, "at": [0, 0], "fall": "1:20", "direction": 90},
    {"shape": "breaks", "breaks": [{"at": "-1 m", "depth": 1200}, {"at": 900, "depth": 1400}]},
)
"""One of each shape, in millimetres."""
