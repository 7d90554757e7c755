"""What painters hold: a pen for paper, one for pictures, and the letters they set."""
