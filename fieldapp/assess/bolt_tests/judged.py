"""One test of support by the rule of the standard that fits it."""

from fieldapp.assess.bolt_tests.cores import cores_result
from fieldapp.assess.bolt_tests.pull import pull_result
from fieldapp.assess.bolt_tests.result import Result
from schemas.bodies.bolt_test import BoltTest
from schemas.bolt_test_rules import BoltTestRule, TorqueTestRule
from schemas.numbers import text
from schemas.standard import BoltType, Standard


def result_of(test: BoltTest, standard: Standard | None) -> Result:
    """Judge a test by the standard's rule for it.

    Parameters
    ----------
    test : BoltTest
        As it was read. [kN, mm, N·m, MPa]
    standard : Standard or None
        By which it was made; None where none is known. [any]

    Returns
    -------
    Result
        Can't be judged where the standard says nothing of such tests. [-]

    Source
    ------
    Common practice, no source: every limit is the mine's.
    """
    if standard is None:
        return Result("can't be judged", "no standard is in force")
    if test.kind == "shotcrete cores":
        return cores_result(test, standard.cores) if standard.cores else _no_rule(test, standard)
    if test.kind == "torque":
        turned = torque_rule(standard, test.bolt_type)
        return _torque(test, turned) if turned else _no_rule(test, standard)
    rule = pull_rule(standard, test)
    if rule is None:
        return _no_rule(test, standard)
    return pull_result(test, rule, bolt_of(standard, test.bolt_type))


def pull_rule(standard: Standard, test: BoltTest) -> BoltTestRule | None:
    """Find the rule of a pull test.

    Parameters
    ----------
    standard : Standard
        By which it was made. [any]
    test : BoltTest
        Which bolt type, proof or destructive. [-]

    Returns
    -------
    BoltTestRule or None
        None where the standard says nothing of it. [-]

    Source
    ------
    Common practice, no source.
    """
    kind = "destructive" if test.kind == "destructive pull" else "proof"
    fits = (it for it in standard.bolt_tests if it.bolt_type == test.bolt_type)
    return next((it for it in fits if it.kind == kind), None)


def torque_rule(standard: Standard, bolt_type: str | None) -> TorqueTestRule | None:
    """Find the rule by which bolts of a type are turned again.

    Parameters
    ----------
    standard : Standard
        By which it is made. [any]
    bolt_type : str or None
        Code of the type. [-]

    Returns
    -------
    TorqueTestRule or None
        None where the standard says nothing of it. [-]

    Source
    ------
    Common practice, no source.
    """
    return next((it for it in standard.torque_tests if it.bolt_type == bolt_type), None)


def bolt_of(standard: Standard, bolt_type: str | None) -> BoltType | None:
    """Find a bolt type of the standard by its code.

    Parameters
    ----------
    standard : Standard
        Whose support classes. [any]
    bolt_type : str or None
        Code of the type. [-]

    Returns
    -------
    BoltType or None
        None where no class has it. [-]

    Source
    ------
    Definition.
    """
    bolts = (bolt for known in standard.classes for bolt in known.bolts)
    return next((it for it in bolts if it.code == bolt_type), None)


def _no_rule(test: BoltTest, standard: Standard) -> Result:
    of = f" of {test.bolt_type}" if test.bolt_type else ""
    return Result("can't be judged", f"{standard.name} says nothing of a {test.kind} test{of}")


def _torque(test: BoltTest, rule: TorqueTestRule) -> Result:
    limit = f"at least {text(rule.at_least_nm)} N·m"
    if test.torque_nm is None:
        return Result("can't be judged", "no torque was read", limit, rule.because)
    read, clause = f"{text(test.torque_nm)} N·m", rule.because
    if test.torque_nm < rule.at_least_nm:
        then = rule.after_failure
        return Result("failed", read, limit, clause, then=then, value=test.torque_nm)
    if test.rig_checked_at is None:
        unsure = "the wrench was never calibrated, as far as anybody said"
        return Result("can't be judged", unsure, limit, clause)
    return Result("passed", read, limit, clause, value=test.torque_nm)
