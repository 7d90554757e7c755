"""What the screens are made of. Each widget is one .py and one .kv of the same name."""
