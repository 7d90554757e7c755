"""How a result doubts what it was computed from: sensitivities found by small steps."""

import math
from collections.abc import Callable
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Values: TypeAlias = NDArray[np.float64]


def propagated(
    results: Callable[[Values], Values], inputs: Values, covariance: NDArray[np.float64]
) -> float:
    """Carry the uncertainty of inputs to a result.

    Parameters
    ----------
    results : callable
        Gives the results of many inputs like these, one to a row. [any]
    inputs : array of shape (n,)
        The best estimates. [any]
    covariance : array of shape (n, n)
        Of the inputs; its diagonal holds squared standard uncertainties. [squared]

    Returns
    -------
    float
        Standard uncertainty of the result. [unit of the result]

    Source
    ------
    JCGM 100:2008, 5.2.2, equation (13), with the sensitivities of 5.1.3 found as note 2 says:
    each input moved by plus and minus its own standard uncertainty.
    """
    steps = np.sqrt(np.diag(covariance))
    moved = np.diag(steps)[steps > 0]
    more, less = np.split(results(np.vstack((inputs + moved, inputs - moved))), 2)
    slopes = np.zeros(len(inputs))
    slopes[steps > 0] = (more - less) / (2 * steps[steps > 0])
    return math.sqrt(max(float(slopes @ covariance @ slopes), 0.0))
