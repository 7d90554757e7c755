"""What is written down: entries, their bodies, the standard and findings. The facts."""
