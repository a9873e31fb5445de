"""The exhibit that runs unattended."""
