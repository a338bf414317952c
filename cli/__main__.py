"""``python -m poolgeo_cli`` is the same as ``poolgeo``."""

from .main import main

main(prog_name="poolgeo")
