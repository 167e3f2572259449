"""What falls due when: by weeks for a page, and as a calendar that other programs fetch at a private address."""
