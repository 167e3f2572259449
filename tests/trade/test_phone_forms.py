"""What the phone's form does without a browser, run by Node."""

import subprocess
from pathlib import Path

import pytest

HERE = Path(__file__).parent


@pytest.mark.parametrize("tests", sorted(path.name for path in HERE.glob("*.test.mjs")))
def test_the_phones_own_tests(tests: str) -> None:
    run = subprocess.run(["node", "--test", HERE / tests], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout[-8000:]
