"""The JSON that two languages read alike: RFC 7493, with the logbook's limits."""

import pytest

from server.crew import ijson

REFUSED = {
    "byte order mark": b"\xef\xbb\xbf{}",
    "duplicate member": b'{"a":1,"a":1}',
    "duplicate member by escape": b'{"a":1,"\\u0061":1}',
    "lone high surrogate": b'"\\ud800"',
    "lone low surrogate": b'"\\udc00"',
    "surrogates the wrong way round": b'"\\udc00\\ud800"',
    "surrogate as bytes": b'"\xed\xa0\x80"',
    "noncharacter fffe": b'"\\ufffe"',
    "noncharacter of plane 1": '"\U0001ffff"'.encode(),
    "noncharacter fdd0": b'"\\ufdd0"',
    "nought": b'"\\u0000"',
    "nought in a member's name": b'{"\\u0000":1}',
    "fraction": b"1.0",
    "exponent": b"1e0",
    "NaN": b"NaN",
    "Infinity": b"-Infinity",
    "2^53": b"9007199254740992",
    "-2^53": b"-9007199254740992",
    "very long number": b"1" * 5000,
    "leading zero": b"01",
    "two values": b"{} {}",
    "single quotes": b"{'a':1}",
    "trailing comma": b"[1,]",
    "bare control character": b'"\n"',
    "other blank": b"\xc2\xa0{}",
    "not UTF-8": b'"\xff"',
    "overlong UTF-8": b'"\xc0\xaf"',
    "nothing": b"",
    "depth 17": b"[" * 17 + b"]" * 17,
    "depth without end": b"[" * 100_000,
}


@pytest.mark.parametrize("octets", REFUSED.values(), ids=REFUSED.keys())
def test_refused(octets):
    with pytest.raises(ijson.NotIJson):
        ijson.loads(octets)


@pytest.mark.parametrize(
    ("octets", "value"),
    [
        (b"[" * 16 + b"]" * 16, [[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]),
        (b" {\t} \r\n", {}),
        (b"9007199254740991", 9007199254740991),
        (b"-9007199254740991", -9007199254740991),
        (b'"\\ud83d\\ude00"', "\U0001f600"),
        (b"[true,false,null]", [True, False, None]),
    ],
)
def test_read(octets, value):
    assert ijson.loads(octets) == value
