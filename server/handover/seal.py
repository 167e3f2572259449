"""The seal: a PAdES B-B signature over the report's file, invisible, certifying that nothing may change.

It says which certificate sealed the file and that no byte of it was changed since; it claims no validation in
later years, for which revocation data and a time stamp would be wanted.
"""

import os
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import NoEncryption, pkcs12
from cryptography.x509.oid import NameOID

FIELD = "Handline"
LIFE = timedelta(days=3650)


class NoCertificate(Exception):  # noqa: N818 - said to whoever runs the server, by this name
    """The PKCS#12 file of the seal holds no key and certificate that can be used; the message names it."""


def certificate_file(data: Path) -> Path:
    """Where the seal's key and certificate are kept, PKCS#12 without a password, for its owner's eyes only."""
    return data / "keys" / "seal.p12"


def make_certificate(data: Path, unit_name: str) -> None:
    """Make the seal's key and a certificate that it signs itself; one that is there, or was put there, stays."""
    path = certificate_file(data)
    if path.exists():
        return
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"{unit_name}, reports"[:64])])
    now = datetime.now(UTC)
    certificate = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + LIFE)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(
            x509.KeyUsage(
                digital_signature=True,
                content_commitment=True,
                key_encipherment=False,
                data_encipherment=False,
                key_agreement=False,
                key_cert_sign=False,
                crl_sign=False,
                encipher_only=False,
                decipher_only=False,
            ),
            critical=True,
        )
        .sign(key, hashes.SHA256())
    )
    packed = pkcs12.serialize_key_and_certificates(b"seal", key, certificate, None, NoEncryption())
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(packed)


def seal(pdf: bytes, data: Path) -> bytes:
    """The sealed file. Raises NoCertificate."""
    # Only who seals waits for this library: its import takes longer than all of the server's start.
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
    from pyhanko.sign import fields, signers

    path = certificate_file(data)
    try:
        signer = signers.SimpleSigner.load_pkcs12(str(path))  # type: ignore[no-untyped-call] # it carries no types
    except (OSError, ValueError) as fault:
        raise NoCertificate(f"{path} cannot be used for the seal: {fault}") from None
    if signer is None:
        raise NoCertificate(f"{path} holds no key and certificate for the seal")
    meta = signers.PdfSignatureMetadata(
        field_name=FIELD,
        md_algorithm="sha256",
        subfilter=fields.SigSeedSubFilter.PADES,
        certify=True,
        docmdp_permissions=fields.MDPPerm.NO_CHANGES,
    )
    spec = fields.SigFieldSpec(FIELD, invis_sig_settings=fields.InvisSigSettings(box_out_of_bounds=True))
    out = BytesIO()
    signers.PdfSigner(meta, signer, new_field_spec=spec).sign_pdf(
        IncrementalPdfFileWriter(BytesIO(pdf)), output=out
    )
    return out.getvalue()
