"""Every published figure that the app's functions are held against, by subject."""

from tests.reference.value import Value
from tests.reference.values import (
    corrosion,
    doubts,
    geometry,
    intersections,
    load,
    looks_and_shares,
    mesh,
    steel_and_bond,
    take_off,
)

VALUES: tuple[Value, ...] = (
    *geometry.VALUES,
    *steel_and_bond.VALUES,
    *corrosion.VALUES,
    *looks_and_shares.VALUES,
    *doubts.VALUES,
    *take_off.VALUES,
    *mesh.VALUES,
    *load.VALUES,
    *intersections.VALUES,
)
