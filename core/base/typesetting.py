"""Laying a document out: a template in resources fed with JSON, never with markup made of text.

Fonts come from resources alone, so the same input gives the same bytes on every machine with the same release
of the typesetter.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from resources import bundled

#: The typesetter forgets what no document has used since this many.
_GENERATIONS = 12


@contextmanager
def typesetter(template: str, inputs: dict[str, str]) -> Iterator[Any]:
    """The typesetter with one of resources' templates and its inputs; it keeps nothing of them afterwards."""
    try:
        yield _typesetter(template, inputs)
    finally:
        _forget()


def typeset(template: str, inputs: dict[str, str], **options: Any) -> list[bytes]:
    """The pages as PNG, one each, or the one PDF, as the options say."""
    with typesetter(template, inputs) as compiler:
        made = compiler.compile(**options)
    pages = made if isinstance(made, list) else [made]
    return [bytes(page) for page in pages]


def _typesetter(name: str, inputs: dict[str, str]) -> Any:
    import typst

    # A path, not the text: the typesetter can not be asked about a document that it was handed as bytes.
    return typst.Compiler(
        str(bundled("sheet", name)),
        font_paths=typst.Fonts(
            include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(bundled("fonts"))]
        ),
        ignore_system_fonts=True,
        sys_inputs=inputs,
    )


def _forget() -> None:
    """Have the typesetter drop what it remembers of a document, some 28 MB for a sheet.

    It remembers what the last ten documents it set were made of, which is of no use to another sheet and can
    not be switched off. A dozen documents of one word make the sheet old enough, for 3% of the time of
    setting one (measured).
    """
    compiler = _typesetter("word.typ", {})
    for _ in range(_GENERATIONS):
        compiler.compile(format="pdf")
