"""Texts that a stranger might send: named floods, and floods drawn by seed from the marks of a form.

Every maker gives a text of about the size asked for, of one kind from beginning to end, so that what a reader
takes for it can be held to its size.
"""

from __future__ import annotations

import random
from collections.abc import Callable

Maker = Callable[[int], str]

NEEDED = (
    "NORAD_CAT_ID,EPOCH,MEAN_MOTION,ECCENTRICITY,INCLINATION,RA_OF_ASC_NODE,ARG_OF_PERICENTER,MEAN_ANOMALY"
)
EVENING = '"evening":{"start":"2026-11-27T16:00:00Z","end":"2026-11-27T20:00:00Z"}'


def over(block: str, size: int) -> str:
    """The block over and over, to at least ``size`` letters."""
    return block * (size // len(block) + 1)


def again(block: str, head: str = "", tail: str = "") -> Maker:
    """Head, the block over and over, tail."""
    return lambda size: head + over(block, size) + tail


def numbered(form: str, head: str = "", tail: str = "") -> Maker:
    """Head, the form with 0, 1, 2, ... put in, tail: every piece another one."""

    def make(size: int) -> str:
        count = size // len(form.format(10_000)) + 1
        return head + "".join(form.format(at) for at in range(count)) + tail

    return make


def plan(in_site: str = "", beside: str = "") -> str:
    """A short plan with more put into its site and beside it."""
    site = f'"site":{{"latitude_deg":47,"longitude_deg":9{in_site}}}'
    return f'{{"format":"northkey-plan","version":1,{site},{EVENING}{beside}}}'


def in_plan(before: str, block: str, after: str, *, of_site: bool = False) -> Maker:
    """A plan with a flood in one of its values."""

    def make(size: int) -> str:
        value = before + over(block, size) + after
        return plan(in_site=value) if of_site else plan(beside=value)

    return make


#: Element files. Of the two-line kind, the first lines are such that the form is known.
ELEMENTS: dict[str, Maker] = {
    "csv: one-letter lines": again("x\n", NEEDED + "\n"),
    "csv: blank lines": again("\n", NEEDED + "\n"),
    "csv: commas": again(",", NEEDED + "\n"),
    "csv: short cells on one line": again("ab,", NEEDED + "\n"),
    "csv: lines of commas": again(",,,,,,,\n", NEEDED + "\n"),
    "csv: one column many times": again("X,", NEEDED + ","),
    "csv: many columns": numbered("X{},", NEEDED + ","),
    "csv: quotes on lines": again('"\n', NEEDED + "\n"),
    "csv: quotes": again('"', NEEDED + "\n"),
    "csv: quoted commas": again('",', NEEDED + "\n"),
    "csv: one object over and over": again("1,2024-01-01T00:00:00,1,0,0,0,0,0\n", NEEDED + "\n"),
    "csv: a long row of digits": again("9", NEEDED + "\n1,2024-01-01T00:00:00,", "x,0,0,0,0,0\n"),
    "csv: zero bytes": again("\0", NEEDED + "\n"),
    "json: ones": again("1,", '[{"EPOCH":1},', "1]"),
    "json: empty objects": again("{},", '[{"EPOCH":1},', "1]"),
    "json: empty lists": again("[],", '[{"EPOCH":1},', "1]"),
    "json: empty texts": again('"",', '[{"EPOCH":1},', "1]"),
    "json: kinds in turn": again('1,{},"",[],null,', '[{"EPOCH":1},', "1]"),
    "json: small objects": again('{"":0},', '[{"EPOCH":1},', "1]"),
    "json: lists in a value": again("[],", '[{"EPOCH":[', "1]}]"),
    "json: objects in a value": again('{"":0},', '[{"EPOCH":[', "1]}]"),
    "json: 900 braces and damage": again('{"EPOCH":' * 900 + "\n", "[", "]"),
    "json: 900 braces closed": again('{"EPOCH":' * 900 + "1" + "}" * 900 + ",\n", "[", "1]"),
    "json: 900 braces closed about damage": again('{"EPOCH":' * 900 + "x" + "}" * 900 + ",\n", "[", "1]"),
    "json: braces": again("{", '"EPOCH":'),
    "json: braces and quotes": again('{"', '"EPOCH":'),
    "json: objects without end": again('{"a":1 ', '"EPOCH":'),
    "json: texts without end": again('{"a":"' + "x" * 1000, '"EPOCH":'),
    "json: escaped braces": again(r'"\"{":1,', '{"EPOCH":1,'),
    "json: backslashes": again("\\", '{"EPOCH":"'),
    "json: many keys": numbered('"K{}":1,', '[{"EPOCH":1,', '"a":1}]'),
    "json: one key over and over": again('"a":1,', '[{"EPOCH":1,', '"a":1}]'),
    "json: many keys and one again": numbered('"K{}":1,', '[{"EPOCH":1,', '"K7":1}]'),
    "json: objects of many keys": again(
        "{" + ",".join(f'"K{at}":1' for at in range(1500)) + ',"K7":1},', "[", '{"EPOCH":1}]'
    ),
    "json: words between": again("{} x ", '"EPOCH":'),
    "json: a long number": again("9", '[{"EPOCH":', "}]"),
    "json: lines": again("\n", '{"EPOCH":1', "}"),
    "json: damage after lines": again('{"a"\n\n\n\n\n\n\n\n', '"EPOCH":'),
    "kvn: keywords": numbered("K{}=1\n", "CCSDS_OMM_VERS = 2.0\n"),
    "kvn: lines without equals": again("x\n", "CCSDS_OMM_VERS = 2.0\n"),
    "kvn: keywords without equals": again("GM\n", "CCSDS_OMM_VERS = 2.0\n"),
    "kvn: one keyword over and over": again("EPOCH=1\nGM=1\n"),
    "kvn: messages of a line": again("CCSDS_OMM_VERS=2\n"),
    "kvn: messages of two lines": again("GM=\nREF_FRAME=\n", "EPOCH=1\n"),
    "kvn: equals signs": again("=", "EPOCH"),
    "kvn: one long line": again("9", "EPOCH="),
    "kvn: brackets": again("[", "EPOCH=1\nGM=", "]"),
    "kvn: blank lines": again(" \n", "EPOCH=1\n"),
    "kvn: zero bytes": again("\0", "EPOCH=1\n"),
    "xml: empty messages, no root": again("<omm/>"),
    "xml: empty messages": again("<omm/>", "<ndm>", "</ndm>"),
    "xml: messages of a keyword": again("<omm><EPOCH/></omm>", "<ndm>", "</ndm>"),
    "xml: one tag over and over": again("<a/>", "<omm>", "</omm>"),
    "xml: many tags": numbered("<a{}/>", "<omm>", "</omm>"),
    "xml: many attributes": numbered("a{}='' ", "<omm><a ", "/></omm>"),
    "xml: one attribute over and over": again("a='' ", "<omm><a ", "/></omm>"),
    "xml: messages without end": again("<omm>"),
    "xml: words between": again("<omm></omm>x"),
    "xml: damaged messages": again("<omm><</omm>"),
    "xml: tags without end": again("<a>", "<omm>"),
    "xml: tags closed": lambda size: "<omm>" + "<a>" * (size // 7) + "</a>" * (size // 7) + "</omm>",
    "xml: comments without end": again("<!--a", "<omm></omm>"),
    "xml: one comment": again("-a", "<omm><!--", "--></omm>"),
    "xml: wrappers without end": again("<ndm ", "<omm></omm>"),
    "xml: instructions without end": again("<?", "<omm></omm>"),
    "xml: one long tag": again("a", "<omm><", "/></omm>"),
    "xml: a long prefix": again("a", "<", ":omm>"),
    "xml: entities": again("&amp;", "<omm><EPOCH>", "</EPOCH></omm>"),
    "xml: entities that are none": again("&x;", "<omm>", "</omm>"),
    "xml: character references": again("&#65;", "<omm><EPOCH>", "</EPOCH></omm>"),
    "xml: declared entities": numbered('<!ENTITY a{} "aaaaaaaa">', "<!DOCTYPE omm [", "]><omm/>"),
    "xml: endings with blanks": again("</omm ", "<omm>"),
    "two-line: one-letter lines": again("x\n", "1 25544U 98067A\n"),
    "two-line: first lines": again("1 00001\n"),
    "two-line: second lines": again("2 00001\n"),
    "two-line: first and second": again("1 00001\n2 00001\n"),
    "two-line: with names": again("x\n1 00001\n2 00001\n"),
    "two-line: one long line": again("9", "1 25544U "),
    "no form: letters": again("x\n"),
    "no form: blanks": again(" "),
    "no form: returns": again("\r"),
    "no form: zero bytes": again("\0"),
    "no form: words in quotes": again('"' + "A" * 40),
    "no form: commas": again(","),
    "no form: tabs": again("\t", "EPOCH"),
}

PLANS: dict[str, Maker] = {
    "horizon of numbers": in_plan(',"horizon":[', "1,", "1]", of_site=True),
    "horizon of kinds in turn": in_plan(',"horizon":[', '1,"",null,', "1]", of_site=True),
    "horizon of empty objects": in_plan(',"horizon":[', "{},", "{}]", of_site=True),
    "horizon of spaced empty objects": in_plan(',"horizon":[', "{}" + " " * 20 + ",", "{}]", of_site=True),
    "horizon of good points": in_plan(
        ',"horizon":[',
        '{"azimuth_deg": 1.5, "elevation_deg": 1.5}, ',
        '{"azimuth_deg": 1.5, "elevation_deg": 1.5}]',
        of_site=True,
    ),
    "horizon of one point of many keys": lambda size: plan(
        in_site=numbered('"k{}":1,', ',"horizon":[{"azimuth_deg":1,', '"elevation_deg":1}]')(size)
    ),
    "picks of numbers": in_plan(',"picks":[', "1,", "1]"),
    "picks that are good": in_plan(
        ',"picks":[',
        '{"norad_id":1,"near":"2026-11-27T16:00:00Z"},',
        '{"norad_id":1,"near":"2026-11-27T16:00:00Z"}]',
    ),
    "antennas of empty objects": in_plan(',"antennas":[', "{},", "{}]"),
    "antennas of spaced empty objects": in_plan(',"antennas":[', "{}" + " " * 20 + ",", "{}]"),
    "satellites of empty objects": in_plan(',"satellites":[', "{}" + " " * 20 + ",", "{}]"),
    "satellites of empty elements": in_plan(
        ',"satellites":[', '{"name":"a","elements":{}},', '{"name":"a","elements":{}}]'
    ),
    "notes that are a list": in_plan(',"notes":[', "1,", "1]"),
    "notes that are lists": in_plan(',"notes":[', "[],", "1]"),
    "many keys": lambda size: plan(beside=numbered(',"k{}":1')(size)),
    "one long key": in_plan(',"', "x", '":1'),
    "one long key nearly right": in_plan(',"', "evening", '":1'),
    "a long title": in_plan(',"title":"', "x", '"'),
    "a long index hole": in_plan(',"mount":{"index_hole":"', "x", '"}'),
    "a long zone": in_plan(',"time_zone":"', "x", '"', of_site=True),
    "a long number": in_plan(',"shortest_contact_s":', "9", ""),
    "brackets": again("["),
    "braces": again('{"a":'),
    "lists": again("[],", "[", "1]"),
    "small objects": again('{"":0},', "[", "1]"),
    "zero bytes": again("\0"),
}

_ENTRY = '{"norad_id":1,"near":"2026-11-27T16:00:00Z","note":"loud"}'
_LOG = '{"format":"northkey-log","version":1,"identity":"0123abcd"'

LOGS: dict[str, Maker] = {
    "entries that are good": again(_ENTRY + ",", _LOG + ',"log":[', _ENTRY + "]}"),
    "entries of nothing": again("{}" + " " * 20 + ",", _LOG + ',"log":[', "{}]}"),
    "numbers for entries": again("1,", _LOG + ',"log":[', "1]}"),
    "a long note": again("x", _LOG + ',"log":[' + _ENTRY[:-6], '"}]}'),
    "a long title": again("\\n", _LOG + ',"title":"', '"}'),
    "a long identity": again("0", '{"format":"northkey-log","version":1,"identity":"', '"}'),
    "a long moment": again("1", _LOG + ',"log":[{"norad_id":1,"near":"', '"}]}'),
    "brackets": again("["),
}

HORIZONS: dict[str, Maker] = {
    "a long row of digits": again("1", "", "x,2\n"),
    "a long row of digits and points": again("1", "", ".1.,2\n"),
    "a long exponent": again("9", "1e", ",2\n"),
    "points": again("1 1\n"),
    "numbers on one line": again("1 "),
    "remarks": again("#\n"),
    "one long remark": again("#"),
    "commas": again(",", "1,2\n"),
    "semicolons": again(";", "1,2\n"),
    "form feeds": again("\x0c"),
    "quotes": again('"'),
    "heads": again("az "),
    "zero bytes": again("\0"),
}

TYPED: dict[str, Maker] = {
    "a long row of digits": again("1", "", "x"),
    "digits and a point": again("1", "", ".1.1"),
    "groups of digits": again("1 234", "", "x"),
    "commas": again("1,234"),
    "points": again("1.234", "", ",5x"),
    "degree signs": again("1°"),
    "minutes": again("1°2'3\""),
    "blanks": again(" ", "1", "x"),
    "letters": again("N "),
    "minus signs": again("-"),
}

_NAMES = ("EPOCH", "MEAN_MOTION", "NORAD_CAT_ID", "OBJECT_NAME", "BSTAR", "GM", "K", "az", "horizon", "picks")
_MARKS = (
    *"{}[]\"',:;=<>/&#!?-+.\\ \t\n\r\0\ufeff\u2028\x1a1x9eE",
    *('"EPOCH":', '"a":1,', "<omm>", "</omm>", "<a/>", "<!--", "-->", "<?xml ", "&amp;", "<![CDATA[", "]]>"),
    *(
        "CCSDS_OMM_VERS = 2.0\n",
        "1 25544U 98067A   ",
        "2 25544  ",
        "1e999",
        "NaN",
        "null",
        "2024-01-01T00:00:00",
    ),
)
_HEADS = (
    ("", ""),
    (NEEDED + "\n", ""),
    ('[{"EPOCH":1},', "1]"),
    ('{"EPOCH":', "}"),
    ("CCSDS_OMM_VERS = 2.0\n", ""),
    ("<ndm>", "</ndm>"),
    ("<omm>", "</omm>"),
    ("1 25544U 98067A\n", ""),
    (plan()[:-1] + ',"notes":', "}"),
    (plan()[:-1] + ',"picks":[', "]}"),
    ("azimuth,elevation\n", ""),
)


def drawn(seed: int) -> Maker:
    """A flood drawn by seed: marks and names of the forms in a block that is repeated, nested, or counted."""
    dice = random.Random(seed)
    head, tail = dice.choice(_HEADS)
    block = ""
    for _ in range(dice.randint(1, 8)):
        piece = dice.choice(_MARKS) if dice.random() < 0.8 else dice.choice(_NAMES)
        block += piece * dice.choice((1, 1, 1, 2, 3, 40, 900))
    if dice.random() < 0.15:
        return numbered(block.replace("{", "{{").replace("}", "}}") + "{}", head, tail)
    if dice.random() < 0.15:  # opened so often, then closed so often
        mirror = block.translate(str.maketrans("{[<", "}]>"))[::-1]
        return lambda size: head + over(block, size // 2) + over(mirror, size // 2) + tail
    return again(block, head, tail)
