"""Arithmetic of what goes on to the membrane: movement of joints, grout between tiles."""

from __future__ import annotations


def thermal_movement(length: float, warmer: float, expansion: float) -> float:
    """Return by how much a length grows [m].

    Args:
        length: Between joints [m].
        warmer: Range of temperature [K].
        expansion: Coefficient of linear expansion [1/K].

    Returns:
        The movement that a joint at its end takes [m].

    Example:
        >>> inch, fahrenheit = 0.0254, 5.0 / 9.0
        >>> round(thermal_movement(360 * inch, 100 * fahrenheit, 8e-6 / fahrenheit) / inch, 3)
        0.288
    """
    return length * warmer * expansion


def grout(length: float, width: float, depth: float, joint: float) -> float:
    """Return the volume of grout by area of tiling [m3/m2].

    Each tile stands in a module of its size and one joint either way; what of that is not tile is
    grout. The usual (L + W) / (L W) counts the crossings twice and the joints into no module: 15 %
    too much for mosaic.

    Args:
        length: Of a tile [m].
        width: Of a tile [m].
        depth: Of the joints [m].
        joint: Their width [m].

    Returns:
        Volume by area, without loss [m].

    Example:
        >>> round(grout(0.3, 0.3, 0.008, 0.003) * 1000, 6)  # L/m2
        0.157632
    """
    return depth * (1.0 - length * width / ((length + joint) * (width + joint)))
