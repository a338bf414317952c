"""Features: each module turns one part of the pool file into layers."""
