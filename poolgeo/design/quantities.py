"""The kinds of value that stand with their unit: densities, films, times, temperatures."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BeforeValidator, Field
from typing_extensions import TypeAliasType

from . import measures
from .measures import Measure, parse_measure
from .values import Form

Written = TypeAliasType(
    "Written",
    Annotated[
        Annotated[str, Field(min_length=2, max_length=40)],
        Field(description="A number and its unit: 1.6 kg/L, 45 min, 20 C, 25 MPa."),
    ],
)
WrittenShare = TypeAliasType(
    "WrittenShare",
    Annotated[
        Annotated[float, Field(ge=0, le=1)] | Annotated[str, Field(max_length=40)],
        Field(description="A share: 0.1 or 10 %."),
    ],
)


def _reader(measure: Measure) -> Callable[[Any], float]:
    return lambda value: parse_measure(value, measure)


Density = Annotated[float, BeforeValidator(_reader(measures.DENSITY), Written),
                    Form(measures.DENSITY.accepted)]  # fmt: skip
"""[kg/m3]"""
Film = Annotated[float, BeforeValidator(_reader(measures.FILM), Written),
                 Form(measures.FILM.accepted)]  # fmt: skip
"""[m] A thickness of a film."""
Depth = Annotated[float, BeforeValidator(_reader(measures.DEPTH), Written),
                  Form(measures.DEPTH.accepted)]  # fmt: skip
"""[m] A depth of roughness or damage; may be 0."""
Coverage = Annotated[float, BeforeValidator(_reader(measures.COVERAGE), Written),
                     Form(measures.COVERAGE.accepted)]  # fmt: skip
"""[kg/m2]"""
Mass = Annotated[float, BeforeValidator(_reader(measures.MASS), Written),
                 Form(measures.MASS.accepted)]  # fmt: skip
"""[kg]"""
Volume = Annotated[float, BeforeValidator(_reader(measures.VOLUME), Written),
                   Form(measures.VOLUME.accepted)]  # fmt: skip
"""[m3]"""
Duration = Annotated[float, BeforeValidator(_reader(measures.DURATION), Written),
                     Form(measures.DURATION.accepted)]  # fmt: skip
"""[s]"""
Temperature = Annotated[float, BeforeValidator(_reader(measures.TEMPERATURE), Written),
                        Form(measures.TEMPERATURE.accepted, "temperature")]  # fmt: skip
"""[deg C]"""
Stress = Annotated[float, BeforeValidator(_reader(measures.STRESS), Written),
                   Form(measures.STRESS.accepted)]  # fmt: skip
"""[Pa]"""
Speed = Annotated[float, BeforeValidator(_reader(measures.SPEED), Written),
                  Form(measures.SPEED.accepted)]  # fmt: skip
"""[m2/s] Of one person."""
Area = Annotated[float, BeforeValidator(_reader(measures.AREA), Written),
                 Form(measures.AREA.accepted)]  # fmt: skip
"""[m2]"""
Share = Annotated[float, BeforeValidator(_reader(measures.SHARE), WrittenShare),
                  Form("a share from 0 to 1, such as 0.1 or 10 %", "share")]  # fmt: skip
"""[-] From 0 to 1."""
TemperatureStep = Annotated[float, BeforeValidator(_reader(measures.STEP), Written),
                            Form(measures.STEP.accepted)]  # fmt: skip
"""[K]"""
Expansion = Annotated[float, BeforeValidator(_reader(measures.EXPANSION), Written),
                      Form(measures.EXPANSION.accepted, "expansion")]  # fmt: skip
"""[1/K]"""
Loss = Annotated[float, BeforeValidator(_reader(measures.LOSS), WrittenShare),
                 Form("a share from 0 to 0.9, such as 0.1 or 10 %", "share")]  # fmt: skip
"""[-] Of what is bought, from 0 to 0.9."""
Capability = Annotated[float, BeforeValidator(_reader(measures.CAPABILITY), WrittenShare),
                       Form("a share above 0, such as 0.2 or 20 %", "share")]  # fmt: skip
"""[-] Movement that a sealant bears, of its width."""
