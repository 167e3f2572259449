"""The pages of a report, looked at: that the heads they print are the record's, and no others."""

import re
from io import BytesIO

from pypdf import PdfReader

from server.crew import jws
from server.handover import HEADS
from server.handover.finding import Broken
from server.handover.record import Record, octets

NAME = re.compile(r"(?<![A-Za-z0-9_-])[A-Za-z0-9_-]{43}(?![A-Za-z0-9_-])")


def pages_hold(pdf: bytes, record: Record) -> str:
    """Say that the pages print the record's heads. Raises Broken, naming what is printed and is not the record's."""
    texts = _texts(pdf)
    _know_every_name(texts, record)
    printed = _section(texts)
    wanted = {"named_title": record["heads"], "printed_title": record["tips"]}
    if record.get("handed_over") is None:
        del wanted["named_title"]
    found = _by_title(printed, [HEADS[title] for title in wanted])
    for title, heads in wanted.items():
        names = [name for key, tips in heads.items() for tip in tips for name in (str(key), str(tip))]
        if found[HEADS[title]] != names:
            other = [name for name in found[HEADS[title]] if name not in names] or [
                "fewer, or in another order"
            ]
            raise Broken(f"under \u201c{HEADS[title]}\u201d the pages print other heads: {', '.join(other)}")
    _print_the_gaps(printed, record)
    return f"{len(texts)} pages print the record's heads and no others"


def _texts(pdf: bytes) -> list[str]:
    try:
        # A face of which rare characters are used is read two octets a letter, the first of them empty.
        return [page.extract_text().replace("\0", "") for page in PdfReader(BytesIO(pdf)).pages]
    except Exception as fault:  # a reader of hostile octets raises whatever it likes
        raise Broken(f"the pages cannot be read: {fault}") from None


def _know_every_name(texts: list[str], record: Record) -> None:
    """Whatever stands on a page in the form of a name stands in the record too, as a name, key, digest or word."""
    payloads = (
        jws.split(str(text))[1].decode(errors="replace") for text in [*record["entries"], *record["cards"]]
    )
    names = (jws.sha256(str(text).rpartition(".")[0].encode()) for text in record["entries"])
    known = "\n".join([octets(record).decode(), *payloads, *names])
    strange = sorted({name for text in texts for name in NAME.findall(text) if name not in known})
    if strange:
        raise Broken(f"the pages print names that are not in the record: {', '.join(strange)}")


def _section(texts: list[str]) -> str:
    """The text of the last pages, those of the heads."""
    title = HEADS["heads_title"]
    starts = [number for number, text in enumerate(texts) if text.lstrip().startswith(title)]
    if not starts:
        raise Broken(f"no page of the file begins with \u201c{title}\u201d")
    return "\n".join(texts[starts[-1] :])


def _by_title(printed: str, titles: list[str]) -> dict[str, list[str]]:
    """The names under each title, in the order in which they stand."""
    found: dict[str, list[str]] = {}
    rest = printed
    for title, following in zip(titles, [*titles[1:], HEADS["gaps_title"]], strict=True):
        before, there, rest = rest.partition(title)
        if not there or NAME.search(before):
            raise Broken(f"the pages do not print \u201c{title}\u201d where it is meant")
        under, there, after = rest.partition(following)
        found[title] = NAME.findall(under)
        rest = there + after
    return found


def _print_the_gaps(printed: str, record: Record) -> None:
    after = " ".join(printed.partition(HEADS["gaps_title"])[2].split())
    for key, gaps in record["gaps"].items():
        for first, last in map(tuple, gaps):
            if f"{key} {first} to {last}" not in after:
                raise Broken(f"the pages do not say that {first} to {last} of {key} have not arrived")
    if not record["gaps"] and NAME.search(after):
        raise Broken("the pages say that entries have not arrived, and the record does not")
