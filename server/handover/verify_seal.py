"""The seal of a report's file, looked at: whose it is, and whether a byte was changed since."""

from io import BytesIO

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.x509.oid import NameOID
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko_certvalidator import ValidationContext

from server.handover.finding import Broken

ONLY_SINCE = "a seal by an unknown certificate proves only that nothing changed since it was put on"


def sealed(pdf: bytes, certificate: bytes | None) -> str:
    """What the seal proves; `certificate` is the one it should be by, PEM or DER, where known. Raises Broken."""
    try:
        signatures = PdfFileReader(BytesIO(pdf)).embedded_signatures
    except Exception as fault:
        raise Broken(f"the file cannot be read as a PDF: {fault}") from None
    if len(signatures) != 1:
        raise Broken(f"the file bears {len(signatures)} seals where one is meant")
    signer = x509.load_der_x509_certificate(signatures[0].signer_cert.dump())
    fingerprint = signer.fingerprint(hashes.SHA256()).hex()
    whose = f"{_named(signer.subject)}, SHA-256 {fingerprint}"
    try:
        trust = ValidationContext(trust_roots=[signatures[0].signer_cert], allow_fetching=False)
        status = validate_pdf_signature(signatures[0], trust)
    except Exception as fault:
        raise Broken(f"the seal cannot be judged: {fault}") from None
    if not status.intact:
        raise Broken(f"the file was changed since it was sealed by {whose}")
    if not status.valid:
        raise Broken(f"the seal is not by the certificate it names: {whose}")
    if status.coverage is None or status.coverage.name != "ENTIRE_FILE":
        raise Broken("something was added to the file after it was sealed")
    if certificate is None:
        return f"unchanged since it was sealed by {whose}; not compared with a certificate of yours: {ONLY_SINCE}"
    if _certificate(certificate) != signer.public_bytes(serialization.Encoding.DER):
        raise Broken(f"sealed by another certificate than yours: {whose}; {ONLY_SINCE}")
    return f"unchanged since it was sealed by your certificate, {whose}"


def _named(subject: x509.Name) -> str:
    names = subject.get_attributes_for_oid(NameOID.COMMON_NAME)
    return f"\u201c{names[0].value!s}\u201d" if len(names) == 1 else subject.rfc4514_string()


def _certificate(octets: bytes) -> bytes:
    try:
        load = x509.load_pem_x509_certificate if b"-----BEGIN" in octets else x509.load_der_x509_certificate
        return load(octets).public_bytes(serialization.Encoding.DER)
    except ValueError as fault:
        raise Broken(f"the certificate to compare with cannot be read: {fault}") from None
