"""The reader of UDDF files against the attacks on XML parsers that the defusedxml library lists.

Source: the documentation of defusedxml 0.7.1 (PyPI), section "Attack vectors": billion laughs, quadratic
blowup, external entity expansion (remote and local file), DTD retrieval, decompression bombs, processing
instructions, other DTD features, XPath injection, XInclude, XSLT. The library itself is the oracle: with its
strictest setting, `forbid_dtd=True`, it has to refuse the same files.

Not applicable, and why: decompression bombs (nothing is decompressed: a packed file is not XML, see the last
test), XPath, XInclude, XSLT and XML Schema (none of them is implemented; an xi:include is an element like any
other).
"""

from __future__ import annotations

import builtins
import gzip
import io
import socket
from pathlib import Path
from typing import Any, NoReturn

import pytest
from defusedxml import DefusedXmlException, ElementTree

from logbook.errors import BadInput
from logbook.files.uddf.reading import FileDive, read_dives

DIVE = """<uddf version="3.2.1"><profiledata><repetitiongroup><dive id="d">
<informationbeforedive><datetime>2026-05-17T10:30</datetime>{inside}</informationbeforedive>
<informationafterdive><greatestdepth>9</greatestdepth><diveduration>900</diveduration></informationafterdive>
</dive></repetitiongroup></profiledata></uddf>"""
LAUGHS = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10))
EVIL = {
    "billion laughs": (f'<!DOCTYPE uddf [<!ENTITY l0 "lol">{LAUGHS}]>', "&l9;"),
    "billion laughs in an attribute": (f'<!DOCTYPE uddf [<!ENTITY l0 "lol">{LAUGHS}]>', '<link ref="&l9;"/>'),
    "quadratic blowup": (f'<!DOCTYPE uddf [<!ENTITY a "{"a" * 60_000}">]>', "&a;" * 1_000),
    "external entity, remote": ('<!DOCTYPE uddf [<!ENTITY e SYSTEM "http://127.0.0.1:9/e">]>', "&e;"),
    "external entity, local file": ('<!DOCTYPE uddf [<!ENTITY e SYSTEM "file://{secret}">]>', "&e;"),
    "external parameter entity": (
        '<!DOCTYPE uddf [<!ENTITY % p SYSTEM "file://{secret}"> %p;]>', ""
    ),
    "DTD retrieval, system": ('<!DOCTYPE uddf SYSTEM "http://127.0.0.1:9/uddf.dtd">', ""),
    "DTD retrieval, public": ('<!DOCTYPE uddf PUBLIC "-//X//Y" "http://127.0.0.1:9/uddf.dtd">', ""),
    "default attributes": ('<!DOCTYPE uddf [<!ATTLIST dive id CDATA "forged">]>', ""),
    "notation and unparsed entity": (
        '<!DOCTYPE uddf [<!NOTATION n SYSTEM "sh"><!ENTITY u SYSTEM "x" NDATA n>]>', ""
    ),
    "recursive entities": ('<!DOCTYPE uddf [<!ENTITY a "&b;"><!ENTITY b "&a;">]>', "&a;"),
}  # fmt: skip


def evil(name: str, secret: Path) -> bytes:
    doctype, inside = EVIL[name]
    text = f'<?xml version="1.0"?>\n{doctype.replace("{secret}", str(secret))}\n{DIVE.format(inside=inside)}'
    return text.encode()


def read(content: bytes) -> list[FileDive]:
    return list(read_dives(io.BytesIO(content), "evil.uddf"))


@pytest.fixture
def no_way_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever opens a file or a connection fails the test."""

    def opened(*what: Any, **_: Any) -> NoReturn:
        pytest.fail(f"opened {what}")

    monkeypatch.setattr(socket, "socket", opened)
    monkeypatch.setattr(socket, "create_connection", opened)
    monkeypatch.setattr(builtins, "open", opened)
    monkeypatch.setattr(io, "open", opened)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
@pytest.mark.parametrize("name", EVIL)
@pytest.mark.usefixtures("no_way_out")
def test_an_attack_by_document_type_is_refused_at_its_line_and_opens_nothing(
    name: str, encoding: str, tmp_path: Path
) -> None:
    content = evil(name, tmp_path / "secret").decode().replace('"1.0"', f'"1.0" encoding="{encoding}"')
    with pytest.raises(BadInput) as caught:
        read(content.encode(encoding))
    assert "there is a document type (<!DOCTYPE …>)" in caught.value.message
    assert caught.value.where.startswith("line 2, ")


@pytest.mark.parametrize("name", EVIL)
def test_defusedxml_refuses_the_same_files(name: str, tmp_path: Path) -> None:
    with pytest.raises(DefusedXmlException):
        ElementTree.fromstring(evil(name, tmp_path / "secret"), forbid_dtd=True)


def test_both_take_the_file_without_the_attack() -> None:
    content = DIVE.format(inside="").encode()
    assert [dive.dive_id for dive in read(content)] == ["d"]
    assert ElementTree.fromstring(content, forbid_dtd=True).tag == "uddf"


def test_a_local_file_is_never_part_of_what_is_read(tmp_path: Path) -> None:
    secret = tmp_path / "secret"
    secret.write_text("the combination is 1234")
    for name in ("external entity, local file", "external parameter entity"):
        with pytest.raises(BadInput) as caught:
            read(evil(name, secret))
        assert "1234" not in caught.value.message


@pytest.mark.usefixtures("no_way_out")
def test_processing_instructions_stylesheets_schemas_and_includes_are_only_markup() -> None:
    inside = '<?php system("id") ?><xi:include xmlns:xi="http://www.w3.org/2001/XInclude" href="file:///etc/passwd"/>'
    head = '<?xml-stylesheet type="text/xsl" href="http://127.0.0.1:9/evil.xsl"?>'
    text = head + DIVE.format(inside=inside).replace(
        'version="3.2.1"',
        'xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="a http://127.0.0.1:9/a.xsd"',
    )
    assert [(dive.dive_id, dive.problem) for dive in read(text.encode())] == [("d", "")]


def test_a_packed_file_is_not_unpacked() -> None:
    bomb = gzip.compress(DIVE.format(inside=" " * 10_000_000).encode())
    with pytest.raises(BadInput) as caught:
        read(bomb)
    assert "a UDDF file is XML and starts with <?xml or <uddf" in caught.value.message
