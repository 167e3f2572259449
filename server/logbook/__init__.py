"""The logbook: entries, their signatures, and what is computed from them."""
