"""Laying a document out: a template in resources fed with JSON, never with markup made of text.

Fonts come from resources alone, so the same input gives the same bytes on every machine with the same release
of the typesetter.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import as_file, files
from typing import Any

#: The typesetter forgets what no document has used since this many.
_GENERATIONS = 12


@contextmanager
def typesetter(template: str, inputs: dict[str, str]) -> Iterator[Any]:
    """The typesetter with one of resources' templates and its inputs; it keeps nothing of them afterwards."""
    try:
        with _typesetter(template, inputs) as compiler:
            yield compiler
    finally:
        _forget()


def typeset(template: str, inputs: dict[str, str], **options: Any) -> list[bytes]:
    """The pages as PNG, one each, or the one PDF, as the options say."""
    with typesetter(template, inputs) as compiler:
        made = compiler.compile(**options)
    pages = made if isinstance(made, list) else [made]
    return [bytes(page) for page in pages]


@contextmanager
def _typesetter(name: str, inputs: dict[str, str]) -> Iterator[Any]:
    import typst

    resources = files("resources")
    # A path, not the text: the typesetter can not be asked about a document that it was handed as bytes.
    with as_file(resources / "sheet") as folder, as_file(resources / "fonts") as fonts:
        yield typst.Compiler(
            str(folder / name),
            font_paths=typst.Fonts(
                include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(fonts)]
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
    with _typesetter("word.typ", {}) as compiler:
        for _ in range(_GENERATIONS):
            compiler.compile(format="pdf")
