"""The shape of a drive: its outline, where on the rock a place lies, and overbreak."""
