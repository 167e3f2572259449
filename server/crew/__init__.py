"""People, roles, devices, cards and invitations."""
