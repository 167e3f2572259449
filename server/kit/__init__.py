"""Kit: what the unit's definitions and the entries together say of each thing, its dates, labels and lists."""
