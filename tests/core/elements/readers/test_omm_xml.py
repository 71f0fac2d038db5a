from __future__ import annotations

from core.elements.reading import read_elements
from core.elements.writing import write_omm_xml
from tests.core.elements.samples import MADE, element_set, five_sets


def _prefixed(text: str, prefix: str) -> str:
    text = text.replace("</", f"</{prefix}:").replace("<", f"<{prefix}:")
    text = text.replace(f"<{prefix}:/{prefix}:", f"</{prefix}:").replace(f"<{prefix}:?", "<?")
    return text.replace(f"<{prefix}:ndm>", f'<{prefix}:ndm xmlns:{prefix}="urn:example">')


def test_xml_any_prefix_or_none_declared_or_not():
    text = write_omm_xml(five_sets(), **MADE)
    for other in (
        _prefixed(text, "n"),
        _prefixed(text, "ndm-xml.1").replace(' xmlns:ndm-xml.1="urn:example"', ""),
        text.replace("<ndm>", '<ndm xmlns="urn:example">'),
    ):
        assert other != text
        reading = read_elements(other, "a.xml")
        assert reading.sets == five_sets()
        assert (reading.refused, reading.notes) == ((), ())


def test_xml_bare_message_and_declared_encoding():
    text = write_omm_xml([element_set(OBJECT_NAME="Żółw")], **MADE).replace("UTF-8", "ISO-8859-1")
    assert read_elements(text, "a.xml").sets[0].name == "Żółw"
    bare = text.replace("<ndm>\n", "").replace("</ndm>\n", "")
    assert read_elements(bare, "a.xml").sets[0].name == "Żółw"


def test_xml_comments_sections_and_references():
    text = write_omm_xml([element_set()], **MADE)
    text = text.replace("HILLTOP 1", "<![CDATA[A & B]]> &lt;&#x43;&gt;").replace("<data>", "<data><!-- < -->")
    assert read_elements(text, "a.xml").sets[0].name == "A & B <C>"


def test_xml_units_are_checked():
    text = write_omm_xml([element_set(), five_sets()[0]], **MADE)
    good = text.replace("<INCLINATION>", '<INCLINATION units="deg">')
    assert read_elements(good, "a.xml").refused == ()
    reading = read_elements(text.replace("<INCLINATION>", '<INCLINATION units="rad">', 1), "a.xml")
    assert reading.sets == (five_sets()[0],)
    assert (reading.refused[0].place, reading.refused[0].field) == ("line 23", "INCLINATION")


def test_xml_keyword_given_twice():
    text = write_omm_xml([element_set(), five_sets()[0]], **MADE)
    reading = read_elements(text.replace("<EPOCH>", "<EPOCH>x</EPOCH><EPOCH>", 1), "a.xml")
    assert reading.sets == (five_sets()[0],)
    assert reading.refused[0].field == "EPOCH"


def test_xml_user_defined_and_covariance_are_left_aside():
    extra = (
        "<covarianceMatrix><CX_X>1</CX_X></covarianceMatrix><userDefinedParameters>"
        '<USER_DEFINED parameter="A">1</USER_DEFINED><USER_DEFINED parameter="B">2</USER_DEFINED>'
        "</userDefinedParameters></data>"
    )
    reading = read_elements(write_omm_xml(five_sets(), **MADE).replace("</data>", extra), "a.xml")
    assert reading.sets == five_sets()
    assert reading.notes == (
        "a.xml: left aside covariance, user-defined parameters (SGP4 has no use for them)",
    )


def test_xml_other_messages_beside_are_passed_over():
    text = write_omm_xml(five_sets(), **MADE)
    other = text.replace("<ndm>", "<ndm><MESSAGE_ID>1</MESSAGE_ID><opm><EPOCH>x</EPOCH></opm>")
    assert read_elements(other, "a.xml").sets == five_sets()
