"""The ``poolgeo`` command line, installed as ``poolgeo_cli``. One file per command.

Only click and the standard library are imported at the top of these modules, so that ``--help``
answers at once; a command imports what it needs when it runs.
"""
