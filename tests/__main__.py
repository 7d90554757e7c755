"""``python3 -m tests``: the one command that says whether the house stands.

It makes its own environment the first time, brings its own screen where there is none, keeps
the person's settings and records out of it, and ends with what was not tried here and why.

    python3 -m tests                          everything
    python3 -m tests tests/unit -k lap        what pytest would run, with the same care
    python3 -m tests bench                    the ratios to the bare libraries
    python3 -m tests simulate --seeds 1000    a simulated share, seed by seed
    python3 -m tests reference --report       each published figure beside the app's own
"""

import sys

from fieldapp import first_run


def main(words: "list[str]") -> int:
    """Make ready what is missing, then run what was asked for."""
    first_run.enter("dev")
    from tests.run import bench, reference, simulate, suite

    jobs = {"bench": bench.run, "simulate": simulate.run, "reference": reference.run}
    job = jobs.get(words[0]) if words else None
    return job(words[1:]) if job else suite.run(words)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
