"""The solver of linear and integer programs: HiGHS."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import highspy


def quiet() -> highspy.Highs:
    """Return a solver that prints nothing and answers the same each time."""
    import highspy

    class Quiet(highspy.Highs):
        # Its constructor prints a banner to standard output, where a command's result goes, unless
        # told not to before it comes to this.
        def enableCallbacks(self) -> None:  # noqa: N802 - the solver's name
            self.setOptionValue("output_flag", False)
            super().enableCallbacks()  # type: ignore[no-untyped-call]

    highs = Quiet()  # type: ignore[no-untyped-call]
    highs.setOptionValue("output_flag", False)
    highs.setOptionValue("threads", 1)
    return highs
