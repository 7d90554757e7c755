"""Labels: what stands on one, its codes, and the forms that it is printed on."""
