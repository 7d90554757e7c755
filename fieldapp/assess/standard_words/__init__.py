"""A support standard in plain words: what is demanded, why, and what a breach means.

Shown on the Standard screen for the class of a heading, and printed by
`lastrow standard check`. The words come from the same figures that the checks judge by.
"""

from fieldapp.assess.standard_words import (
    bolt_words,
    ground_words,
    intersection_words,
    load_words,
    mesh_words,
    mine_words,
)
from fieldapp.assess.standard_words.section import Line, Section
from fieldapp.assess.times import time_words
from schemas.standard import Standard, SupportClass

__all__ = ["Line", "Section", "class_in_words", "mine_in_words", "standard_in_words"]

_CLASS_SECTIONS = (
    *ground_words.SECTIONS,
    *bolt_words.SECTIONS,
    *load_words.SECTIONS,
    *mesh_words.SECTIONS,
    *intersection_words.SECTIONS,
)


def class_in_words(support_class: SupportClass) -> tuple[Section, ...]:
    """Say what one support class demands, in the order in which a round is looked at.

    Parameters
    ----------
    support_class : SupportClass
        The class. [any]

    Returns
    -------
    tuple of Section
        Subjects that the class has nothing of are left out. [any]

    Source
    ------
    Common practice, no source.
    """
    found = (Section(title, tuple(said(support_class))) for title, said in _CLASS_SECTIONS)
    return tuple(section for section in found if section.lines)


def mine_in_words(standard: Standard) -> tuple[Section, ...]:
    """Say what holds in the whole mine, whatever the class.

    Parameters
    ----------
    standard : Standard
        The revision. [any]

    Returns
    -------
    tuple of Section
        Subjects that the standard says nothing about are left out. [any]

    Source
    ------
    Common practice, no source.
    """
    found = (Section(title, tuple(said(standard))) for title, said in mine_words.SECTIONS)
    return tuple(section for section in found if section.lines)


def standard_in_words(standard: Standard) -> tuple[Section, ...]:
    """Say everything that a standard demands.

    Parameters
    ----------
    standard : Standard
        The revision. [any]

    Returns
    -------
    tuple of Section
        Whose it is, each class with its code before the title, then the whole mine. [any]

    Source
    ------
    Common practice, no source.
    """
    classes = (
        Section(f"{known.code}, {known.title}: {section.title}", section.lines)
        for known in standard.classes
        for section in class_in_words(known)
    )
    return (_whose(standard), *classes, *mine_in_words(standard))


def _whose(standard: Standard) -> Section:
    demo = (Line("A worked example: it can't sign a heading of a real mine."),)
    return Section(
        f"{standard.name}: {standard.title}",
        (
            Line(f"For {standard.mine}, approved by {standard.approved_by}."),
            Line(f"In force from {time_words(standard.effective_from)}."),
            *(demo if standard.demo else ()),
        ),
    )
