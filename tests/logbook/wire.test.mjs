/** Reading strictly: JSON, base64url, signatures, keys, instants and figures, held to standards and to another library. */

import assert from "node:assert/strict";
import { createRequire } from "node:module";
import test from "node:test";
import { plain } from "../../static/logbook/decimal.js";
import { parseEntry, Refused, writeEntry } from "../../static/logbook/entry.js";
import { NotIJson, readIJson } from "../../static/logbook/ijson.js";
import { compareInstants, inUtc, readInstant } from "../../static/logbook/instant.js";
import { importKey, NotJws, sha256, split, thumbprint, unb64, verify } from "../../static/logbook/jws.js";

const installed = createRequire(new URL("../../static/package.json", import.meta.url));
/** @type {typeof import("../../static/node_modules/jose/dist/types/index.js")} */
const jose = await import(installed.resolve("jose"));

/** @param {string | Uint8Array} text */
const read = (text) => readIJson(typeof text === "string" ? new TextEncoder().encode(text) : text);

test("JSON that both readers take is read as JSON.parse reads it", () => {
  for (const text of [
    '{"a":[1,-2,0,9007199254740991],"b":{"c":null,"d":[true,false]},"":"x"}',
    '" \\u00e9\\ud83d\\ude00\\n\\/\\\\\\"\\b\\f\\t\\r"',
    " [ ] ",
    "\t{\r\n} ",
    "0",
    '"\u007f\u2028\ufffd"',
  ]) {
    assert.equal(JSON.stringify(read(text)), JSON.stringify(JSON.parse(text)), text);
  }
});

test("a member called __proto__ is a member like any other", () => {
  assert.equal(JSON.stringify(read('{"__proto__":{"tag":"x"}}')), '{"__proto__":{"tag":"x"}}');
});

test("depth 16 is read and 17 is not", () => {
  assert.ok(read("[".repeat(16) + "]".repeat(16)));
  assert.throws(() => read("[".repeat(17) + "]".repeat(17)), NotIJson);
});

// RFC 7493 (I-JSON), sections 2.1 to 2.3; RFC 8259 for the grammar; integers alone after the logbook's page, section 2.
for (const text of [
  "",
  " ",
  "{",
  "[1,]",
  '{"a":1,}',
  '{"a" 1}',
  "{a:1}",
  "'a'",
  "1 2",
  "nul",
  "NaN",
  "Infinity",
  "01",
  "-",
  "+1",
  "1.0",
  "1e0",
  "-0.0",
  "9007199254740992",
  "-9007199254740992",
  '"a',
  '"\t"',
  '"\\x"',
  '"\\u12g4"',
  '"\\u0000"',
  '"\\ud800"',
  '"\\udc00\\ud800"',
  '"\\ufdd0"',
  '"\\uffff"',
  '"\\ud83f\\udffe"',
  '{"a":1,"a":1}',
  '{"a":1,"\\u0061":2}',
  '{"\\ud800":1}',
  "\ufeff{}",
  "[]\u00a0",
]) {
  test(`refused: ${JSON.stringify(text).slice(0, 40)}`, () => assert.throws(() => read(text), NotIJson));
}

test("octets that are not UTF-8 are refused", () => {
  for (const octets of [
    [0x22, 0xff, 0x22],
    [0x22, 0xc0, 0xaf, 0x22],
    [0x22, 0xed, 0xa0, 0x80, 0x22],
  ]) {
    assert.throws(() => read(Uint8Array.from(octets)), NotIJson);
  }
});

test("base64url is canonical", () => {
  assert.deepEqual([...unb64("AQI")], [1, 2]);
  for (const text of ["AQJ", "AQI=", "A", "A+", "A/", "AQ I", "AQI\n"])
    assert.throws(() => unb64(text), NotJws, text);
});

// RFC 7515, appendix A.3.
const RFC_7515_A3 = {
  key: {
    kty: "EC",
    crv: "P-256",
    x: "f83OJ3D2xF1Bg8vub9tLe1gHMzV76e8Tus9uPHvRVEU",
    y: "x_FEzRu9m36HLN_tue659LNpXW6pCyStikYjKIWI5a0",
  },
  signed:
    "eyJhbGciOiJFUzI1NiJ9.eyJpc3MiOiJqb2UiLA0KICJleHAiOjEzMDA4MTkzODAsDQogImh0dHA6Ly9leGFtcGxlLmNvbS9pc19yb290Ijp0cnVlfQ",
  signature: "DtEhU3ljbEg8L38VWAfUAqOyKAM6-Xx-F4GawxaepmXFCgfTjDxw5djxLa8ISlSApmWQxfKTUJqPP3-Kg6NU1Q",
};

test("the signature of RFC 7515, A.3 verifies, and over another payload does not", async () => {
  const { key, signed, signature } = RFC_7515_A3;
  const imported = await importKey(key);
  assert.equal(await verify(`${signed}.${signature}`, imported), true);
  assert.equal(await verify(`${signed.slice(0, -4)}AAAA.${signature}`, imported), false);
});

test("its header has no key's thumbprint, so it is no entry", () => {
  assert.throws(() => split(`${RFC_7515_A3.signed}.${RFC_7515_A3.signature}`), NotJws);
});

test("SHA-256 of the canonical key of RFC 7638, 3.1 is the thumbprint that it prints", async () => {
  const n =
    "0vx7agoebGcQSuuPiLJXZptN9nndrQmbXEps2aiAFbWhM78LhWx4cbbfAAtVT86zwu1RK7aPFFxuhDR1L6tSoc_BJECPebWKRXjBZCiFV4n3oknjhMstn64tZ_2W-5JsGY4Hc5n9yBXArwl93lqt7_RN5w6Cf0h4QyQ5v-65YGjQR0_FDW2QvzqY368QQMicAtaSqzs8KJZgnYb9c7d0zgdAZHzu6qMQvRL5hajrn1n91CbOpbISD08qNLyrdkt-bFTWhAI4vMQFh6WeZu0fM4lFd2NcRwr3XPksINHaQ-G_xBniIqbw0Ls1jF44-csFCur-kEgU8awapJzKnqDKgw";
  assert.equal(
    await sha256(`{"e":"AQAB","kty":"RSA","n":"${n}"}`),
    "NzbLsXh8uDCcd-6MNwXF4W_7noWXFZAfHkxZsRGC9Xs",
  );
});

test("a thumbprint is the one that jose computes, whatever else the key holds", async () => {
  const key = { ...RFC_7515_A3.key, use: "sig", ext: true };
  assert.equal(await thumbprint(key), await jose.calculateJwkThumbprint(RFC_7515_A3.key));
});

test("keys that are none are refused", async () => {
  const { key } = RFC_7515_A3;
  for (const bad of [null, {}, { ...key, crv: "P-384" }, { ...key, x: `${key.x}=` }, { ...key, x: "AAAA" }]) {
    await assert.rejects(thumbprint(bad), NotJws);
  }
  await assert.rejects(importKey({ ...key, y: key.x }), NotJws);
});

/** A device's key, made afresh. */
async function device() {
  const pair = await crypto.subtle.generateKey({ name: "ECDSA", namedCurve: "P-256" }, true, [
    "sign",
    "verify",
  ]);
  const jwk = await crypto.subtle.exportKey("jwk", pair.publicKey);
  return { ...pair, jwk, kid: await thumbprint(jwk) };
}

const PAYLOAD = {
  log: "show-1",
  number: 1,
  previous: null,
  at: "2031-05-02T09:00:00+02:00",
  by: "ann",
  subject: "position/2/rig/legs",
  kind: "tick",
  body: {},
};

test("what is written here, jose verifies", async () => {
  const { privateKey, publicKey, kid } = await device();
  const jws = await writeEntry(PAYLOAD, kid, privateKey);
  const { payload, protectedHeader } = await jose.compactVerify(jws, publicKey);
  assert.deepEqual(JSON.parse(new TextDecoder().decode(payload)), PAYLOAD);
  assert.deepEqual(protectedHeader, { alg: "ES256", kid });
});

test("what jose signs is read and verified here, and goes by the hash of its signing input", async () => {
  const { privateKey, jwk, kid } = await device();
  const jws = await new jose.CompactSign(new TextEncoder().encode(JSON.stringify(PAYLOAD)))
    .setProtectedHeader({ alg: "ES256", kid })
    .sign(privateKey);
  const entry = await parseEntry(jws, "show-1");
  assert.equal(await verify(jws, await importKey(jwk)), true);
  assert.equal(entry.name, await sha256(jws.slice(0, jws.lastIndexOf("."))));
  assert.deepEqual([entry.kid, entry.by, entry.replaces, entry.chain], [kid, "ann", [], null]);
  await assert.rejects(parseEntry(jws, "show-2"), /of the log show-1, not of show-2/);
});

test("what would not be an entry is not written", async () => {
  const { privateKey, kid } = await device();
  await assert.rejects(writeEntry({ ...PAYLOAD, number: 0 }, kid, privateKey), Refused);
  await assert.rejects(writeEntry({ ...PAYLOAD, body: { text: "\ud800" } }, kid, privateKey), Refused);
});

// RFC 3339, section 5.8, its examples; 1990-12-31T23:59:60Z among them is a leap second, which the logbook refuses.
test("the instants of RFC 3339 are the ones that it says", () => {
  const moments = [
    ["1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.52Z"],
    ["1996-12-19T16:39:57-08:00", "1996-12-20T00:39:57Z"],
    ["1937-01-01T12:00:27.87+00:20", "1937-01-01T11:40:27.87Z"],
  ];
  for (const [text = "", utc] of moments) assert.equal(inUtc(instant(text), 0), utc);
  assert.equal(readInstant("1990-12-31T23:59:60Z"), null);
});

/** @param {string} text */
function instant(text) {
  const read = readInstant(text);
  assert.ok(read, text);
  return read;
}

test("instants are moved and compared with all their decimals", () => {
  assert.equal(inUtc(instant("2032-02-28T23:59:00.1230+00:00"), 2), "2032-02-29T00:01:00.123Z");
  assert.equal(inUtc(instant("0099-12-31T23:59:59Z"), 1), "0100-01-01T00:00:59Z");
  const [early, late] = ["2031-05-01T09:00:00.0000000001Z", "2031-05-01T09:00:00.00000000011Z"].map(instant);
  assert.ok(early && late && compareInstants(early, late) < 0 && compareInstants(late, early) > 0);
});

for (const text of [
  "2031-02-29T00:00:00Z",
  "2031-05-01T24:00:00Z",
  "2031-05-01 09:00:00Z",
  "2031-W01-1T00:00:00Z",
]) {
  test(`no instant: ${text}`, () => assert.equal(readInstant(text), null));
}

test("figures that are equal are written alike", () => {
  assert.deepEqual(["20.10", "20.1", "100", "0.0", "-0", "-0.00", "-1.50", "0.10"].map(plain), [
    "20.1",
    "20.1",
    "100",
    "0",
    "0",
    "0",
    "-1.5",
    "0.1",
  ]);
});
