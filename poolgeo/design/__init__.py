"""From the pool file to a design: read, checked and in metres; no geometry yet."""
