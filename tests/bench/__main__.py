"""``python -m tests.bench MODULE``: measure one module in a process of its own."""

import importlib
import json
import sys
from dataclasses import asdict

if __name__ == "__main__":
    ratios = importlib.import_module(sys.argv[1]).ratios()
    sys.stdout.write(json.dumps([asdict(ratio) for ratio in ratios]) + "\n")
