"""The prompt's three answers."""

import io
import json

import pytest

from server import prompt

COLD = {"air_c": 20, "humidity_percent": 60, "body_c": 2}


@pytest.mark.parametrize(
    ("text", "code", "said"),
    [
        (json.dumps(COLD | {"body_c": 19}), 0, ""),
        (json.dumps(COLD), 1, ""),
        ('{"air_c": NaN}', 2, 'air_c: "NaN" is not a number; give a number from -40 to 60 C'),
        ("{", 2, "not JSON"),
        (json.dumps(COLD | {"air_c": 200}), 2, "air_c: 200 is beyond -40 to 60 C"),
    ],
)
def test_exit_codes(text, code, said):
    err = io.StringIO()
    assert prompt.run("condensation", io.StringIO(text), io.StringIO(), err) == code
    assert said in err.getvalue()
    assert bool(said) == bool(err.getvalue())


def test_list_names_every_computation():
    out = io.StringIO()
    prompt.list_all(out)
    assert {"condensation", "depth-of-field", "lens-tracking"} <= {
        line.split("\t")[0] for line in out.getvalue().splitlines()
    }
