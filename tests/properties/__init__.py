"""What holds for every pool."""
