"""How entries travel: sealed segments now, the shared folder above them."""
