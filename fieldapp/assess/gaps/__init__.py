"""The largest gap between bolts: the widest circle on the unrolled rock that holds none."""
