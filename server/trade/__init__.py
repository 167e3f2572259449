"""The trade's arithmetic: what is sharp, what lies on what, what holds, computed where the person stands.

Standard library only, no clock, no files, no network: the same files run on the phone.
"""

CORE = "1"
"""Version of the arithmetic; it changes whenever any computation may answer the same input differently."""
