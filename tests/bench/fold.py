"""What the fold costs, as ratios within one run: `python -m tests.bench.fold`; 1 where one is beyond its bound.

Twice the entries cost about twice (a quadratic fold would cost four times), and one more tick on a phone that holds a
whole show costs its sheet and not the log. Absolute times are this machine's and are printed beside.
"""

import json
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from statistics import median
from typing import Any

from server.logbook import kinds, views
from server.logbook.fold import Fold
from tests.logbook.book import Crew, sheet, step

LOG = "show-1"
SHEETS, STEPS = 20, 20
FEW, MANY, MORE = 1000, 2000, 15
LINEAR = 3.0
ONE_TICK = 1 / 20
NODE = Path(__file__).with_name("fold.mjs")

Case = dict[str, Any]


def show(length: int) -> Case:
    """A show of 400 steps in which five phones tick and reopen, each having heard all that was written."""
    order = random.Random(length)  # noqa: S311 - a history, not a secret
    crew = Crew("bench")
    phones = [crew.device(f"person-{n}", "rigger") for n in range(5)]
    subjects = [[f"position/{p}/rig/step-{n}" for n in range(STEPS)] for p in range(SHEETS)]
    sheets = [
        sheet(
            f"position/{p}/rig",
            *(
                step(subject, after=subjects[p][n - 1 : n], ended_by=["knocked"], about=["lens"], minutes=60)
                for n, subject in enumerate(subjects[p])
            ),
        )
        for p in range(SHEETS)
    ]
    current: dict[str, str] = {}
    written: list[str] = []

    def write() -> str:
        p, n = order.randrange(SHEETS), order.randrange(STEPS)
        subject = subjects[p][n]
        seen = [current[one] for one in subjects[p][max(n - 1, 0) : n] if one in current]
        kind = "reopen" if subject in current and order.random() < 0.2 else "tick"
        phone = order.choice(phones)
        replaces = [current[subject]] if subject in current else []
        body = {"reason": "slipped"} if kind == "reopen" else {}
        current[subject] = phone.write(LOG, subject, kind, body, replaces=replaces, rests_on=seen)
        return phone.written[LOG][-1]

    for n in range(length):
        if n % 100 == 99:
            phones[0].write(LOG, f"position/{order.randrange(SHEETS)}", "event", {"event": "knocked"})
            written.append(phones[0].written[LOG][-1])
        else:
            written.append(write())
    more = [write() for _ in range(MORE)]
    return {
        "log": LOG,
        "unit_key": crew.jwk,
        "sheets": sheets,
        "cards": crew.cards,
        "entries": written,
        "more": more,
        "sheet": json.loads(sheets[0]["text"])["id"],
    }


def of_python(case: Case) -> dict[str, float]:
    """Seconds of this fold: the whole answer, and a sheet's view again after one more tick, the median of several."""
    fold = Fold(log=LOG, unit_key=case["unit_key"], kinds=kinds.load(), sheets=case["sheets"])

    def whole() -> None:
        fold.add_cards(case["cards"])
        fold.add_entries(case["entries"])
        fold.answer()
        views.sheet(fold, {}, case["sheet"])

    def one_more(text: str) -> None:
        fold.add_entries([text])
        views.sheet(fold, {}, case["sheet"])

    took = seconds(whole)
    return {"whole": took, "one_more": median(seconds(partial(one_more, text)) for text in case["more"])}


def of_node(case: Case, folder: Path) -> dict[str, float]:
    """The same of the phone's fold, under Node."""
    file = folder / "bench.json"
    file.write_text(json.dumps(case | {"kinds": kinds.load()}))
    done = subprocess.run(["node", NODE, file], capture_output=True, text=True, check=True)
    return dict(json.loads(done.stdout))


def seconds(work: Callable[[], None]) -> float:
    """How long work takes."""
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def main() -> int:
    """Print a line a language; 1 where a ratio is beyond its bound."""
    few, many = show(FEW), show(MANY)
    beyond = 0
    with tempfile.TemporaryDirectory() as folder:
        for language, cost in (("Python", of_python), ("Node", lambda case: of_node(case, Path(folder)))):
            small, large = cost(few), cost(many)
            growth, tick = large["whole"] / small["whole"], large["one_more"] / large["whole"]
            beyond += growth > LINEAR or tick > ONE_TICK
            sys.stdout.write(
                f"{language}: {MANY} entries {large['whole']:.2f} s, {growth:.2f} times what {FEW} cost (at most "
                f"{LINEAR}); one more tick {large['one_more'] * 1000:.1f} ms, {tick:.4f} of the whole "
                f"(at most {ONE_TICK})\n"
            )
    return 1 if beyond else 0


if __name__ == "__main__":
    sys.exit(main())
