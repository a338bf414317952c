"""What one starts a pool file from."""

from __future__ import annotations

_STARTER = """\
# A pool file. Lengths are numbers in 'units', or text with a unit: 300 mm, 1.2 m, 3' 6".
# Plan: x to the right, y up. Depths count down from the water level.
# Directions are degrees anticlockwise from x.

name: Small garden pool
units: mm # mm, m, ft or in

outline: # also: polygon, polyline, spline, ellipse, circle, combined, dxf, csv
  shape: rectangle
  length: 8000
  width: 4000
  corner_radius: 400
  centre: [0, 0]

floor: # also: level, plane, drains, dished, spots
  shape: breaks # depths at break lines across 'direction', at a distance from 'origin'
  origin: [-4000, 0]
  direction: 0
  breaks:
    - {at: 2500, depth: 1100}
    - {at: 6500, depth: 1800}

cove: # fillet where wall and floor meet
  radius: 75

steps:
  - name: entry steps
    shape: end # across the shallow end, wall to wall; also: side, following, corner, arc ...
    direction: 0 # the way down
    going: 300 # depth of each tread
    risers: 4 # equal risers from the top tread to the floor
    top_tread: 220 # depth of the top tread

bench:
  - name: deep end bench
    start: [4000, -1500] # a point of the wall, or a length along it; anticlockwise to 'end'
    end: [4000, 1500]
    width: 450
    depth: 450

shell: # concrete
  wall: 250
  floor: 200

waterline: # band of the walls about the water level
  above: 75
  below: 75

coping:
  membrane_return: 100 # width of wall top on to which the membrane goes on, under the coping
"""


def starter_text() -> str:
    """Return a short commented pool file that builds as it is: a small pool, steps, bench, cove."""
    return _STARTER
