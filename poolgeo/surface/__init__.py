"""Surface: from the painted plan to labelled triangles and closed solids."""
