"""Measuring: areas, edges and coves of a model's surface, as the rows of its takeoff."""
