"""The base of every noun that is stored in a plan: frozen, validated, compared by value.

Memos compare stage inputs by value, so two equal models must give the same result to the bit:
minus zero is folded into zero, and lists become tuples.

A module of models writes its annotations as they are, without the import of ``annotations`` from the future:
pydantic would compile and evaluate the text of each (5 ms of every start).
"""

from __future__ import annotations

from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, FailFast, Field, GetCoreSchemaHandler
from pydantic_core.core_schema import CoreSchema, no_info_after_validator_function

T = TypeVar("T")


def _fold_zero(value: float) -> float:
    return value + 0.0


class _ZeroFolded:
    """`AfterValidator` would look at the function's signature at each of 230 fields (5 ms measured)."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return no_info_after_validator_function(_fold_zero, handler(source))


#: A finite float; -0.0 becomes 0.0 so that equal inputs are equal to the bit.
Real = Annotated[float, Field(allow_inf_nan=False), _ZeroFolded()]
#: A bearing or an offset in degrees; a few turns say where a thing points, more are a slip.
Turned = Annotated[Real, Field(ge=-1440.0, le=1440.0)]

#: A list of a plan. The first wrong item is told and no other: of a million it would be a gigabyte.
Many = Annotated[tuple[T, ...], FailFast()]


class Model(BaseModel):
    """Frozen pydantic model that refuses unknown keys by name."""

    model_config = ConfigDict(frozen=True, extra="forbid", validate_default=True)
