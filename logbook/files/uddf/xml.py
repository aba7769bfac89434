"""XML from strangers, fed to expat in pieces: no DTD, no entities, nothing fetched, bounded in every way.

Whatever breaks the rules of XML, or a bound, is a BadInput that names file, line and column. The parser
itself never opens anything: without a DTD there is nothing that it could open.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import BinaryIO
from xml.parsers import expat

from logbook.errors import BadInput
from logbook.model.text import printable

PIECE = 1 << 16  # bytes read at a time; texts longer than this come in several parts
LONGEST = 1 << 20  # bytes of one tag or comment, characters of one text
DEEPEST = 64  # open elements; UDDF itself needs about ten
MOST_NAMES, LONGEST_NAMES = 10_000, 1 << 19  # different names, and their characters; UDDF has a few hundred

_NOT_CLOSED = "XML_ERROR_NO_ELEMENTS"  # also where the outermost element is not closed
# What expat found -> what that means for the person who has the file.
_MEANINGS = {
    _NOT_CLOSED: "it ends before its first tag is complete",
    "XML_ERROR_UNCLOSED_TOKEN": "it breaks off here, in the middle of a tag",
    "XML_ERROR_PARTIAL_CHAR": "it breaks off here, in the middle of a character",
    "XML_ERROR_UNCLOSED_CDATA_SECTION": "it breaks off here, inside a CDATA section",
    "XML_ERROR_TAG_MISMATCH": "the tag that ends here is not the one that was opened last",
    "XML_ERROR_DUPLICATE_ATTRIBUTE": "one tag has the same attribute twice",
    "XML_ERROR_JUNK_AFTER_DOC_ELEMENT": "something stands after the end of the document",
    "XML_ERROR_UNDEFINED_ENTITY": "it names an entity that XML itself does not define",
    "XML_ERROR_BAD_CHAR_REF": "it names a character that XML does not allow",
    "XML_ERROR_UNKNOWN_ENCODING": "its encoding is unknown",
    "XML_ERROR_INCORRECT_ENCODING": "it is not in the encoding that its first line states",
    "XML_ERROR_MISPLACED_XML_PI": "the XML declaration is not at the very start",
    "XML_ERROR_XML_DECL": "the XML declaration is not complete",
    "XML_ERROR_INVALID_TOKEN": "what stands here is not XML, or not in the encoding stated in its first line",
    "XML_ERROR_SYNTAX": "what stands here is not XML",
}
_BREAKS_OFF = frozenset(
    (_NOT_CLOSED, "XML_ERROR_UNCLOSED_TOKEN", "XML_ERROR_PARTIAL_CHAR",
     "XML_ERROR_UNCLOSED_CDATA_SECTION")
)  # fmt: skip
_CODES: dict[int, str] = {
    expat.errors.codes[text]: name
    for name, text in vars(expat.errors).items()
    if name.startswith("XML_ERROR_") and text in expat.errors.codes
}


class Source:
    """A file, its name for sentences, its parser, and the texts since the last tag."""

    def __init__(self, file: BinaryIO, name: str, progress: Callable[[int], None] | None) -> None:
        self.shown = printable(name, 120)
        self.texts: list[str] = []
        self._file, self._progress, self._rooted, self._names = file, progress, False, 0
        # The namespace of UDDF differs by version, so names are taken as they are written.
        self.parser = parser = expat.ParserCreate()
        parser.buffer_text, parser.buffer_size, parser.ordered_attributes = True, PIECE, True
        parser.CharacterDataHandler = self.texts.append
        parser.StartDoctypeDeclHandler = self._refuse_doctype

    def pieces(self) -> Iterator[None]:
        """Parse piece by piece, with a pause after each; BadInput at the first thing wrong."""
        read = 0
        while piece := self.next_piece():
            if not read and not piece.strip():
                raise self.bad("there is nothing in it; a UDDF file starts with <?xml or <uddf", at=(1, 1))
            read += len(piece)
            self._parse(piece, final=False)
            self._check_bounds(read)
            yield
            if self._progress is not None:
                self._progress(read)
        if not read:
            raise self.bad("the file is empty; a UDDF file starts with <?xml or <uddf", at=(1, 1))
        self._parse(b"", final=True)
        yield

    def next_piece(self) -> bytes:
        """Bytes from where the file stands; none at its end; BadInput where the disk fails."""
        try:
            return self._file.read(PIECE)
        except OSError as error:
            raise BadInput(f"{self.shown} cannot be read: {error.strerror or error}.", where="file") from None

    def bad(self, what: str, *, at: tuple[int, int] | None = None) -> BadInput:
        """The refusal of the whole file; the place, line and column from 1, is the parser's unless given."""
        line, column = at or (self.parser.CurrentLineNumber, self.parser.CurrentColumnNumber + 1)
        where = f"line {line}, column {column}"
        return BadInput(f"{self.shown} cannot be taken, {where}: {what}.", where=where)

    def empty(self, what: str) -> BadInput:
        """The refusal of a file that is right, but holds nothing of use."""
        return BadInput(f"{self.shown} cannot be taken: {what}.", where="file")

    def check_root(self, local: str) -> None:
        """Raises BadInput where the outermost element is not UDDF's."""
        if local != "uddf":
            found = f"the outermost element is <{printable(local, 40)}>"
            raise self.bad(f"{found}, which is not UDDF; UDDF starts with <uddf>")
        self._rooted = True

    def too_deep(self) -> BadInput:
        """The refusal of elements inside elements without end."""
        return self.bad(f"more than {DEEPEST} elements stand inside each other; UDDF needs about ten")

    def _parse(self, piece: bytes, *, final: bool) -> None:
        try:
            self.parser.Parse(piece, final)
        except expat.ExpatError as error:
            raise self._explained(error) from None
        except (LookupError, ValueError):
            if self._rooted:
                raise
            # Python looks the stated encoding up, and knows none of that name that expat could use.
            what = "its first line states an encoding that cannot be read; save the file as UTF-8"
            raise self.bad(what, at=(1, 1)) from None

    def _explained(self, error: expat.ExpatError) -> BadInput:
        code = _CODES.get(error.code, "")
        what = _MEANINGS.get(code, "it breaks the rules of XML")
        if code in _BREAKS_OFF and self._rooted:
            what = "it breaks off here" if code == _NOT_CLOSED else what
            what += "; a whole UDDF file ends with </uddf>"
        elif not self._rooted:
            what += "; a UDDF file is XML and starts with <?xml or <uddf"
        return self.bad(what, at=(error.lineno, error.offset + 1))

    def _check_bounds(self, read: int) -> None:
        parser = self.parser
        # Expat holds a tag or comment until it is complete, whatever its length.
        if read - max(parser.CurrentByteIndex, 0) > LONGEST + PIECE:
            raise self.bad(f"a tag or comment of more than {LONGEST:,} bytes starts here")
        if len(self.texts) > 1 and sum(map(len, self.texts)) > LONGEST:
            raise self.bad(f"more than {LONGEST:,} characters stand without a tag")
        if len(parser.intern) > self._names:
            # The parser keeps every name that it ever met.
            self._names = len(parser.intern)
            if self._names > MOST_NAMES or sum(map(len, parser.intern)) > LONGEST_NAMES:
                raise self.bad("there are too many different names of elements and attributes for UDDF")

    def _refuse_doctype(self, *_: object) -> None:
        raise self.bad(
            "there is a document type (<!DOCTYPE …>), which could define entities or name other files; UDDF "
            "needs none: leave it out"
        )
