"""The screens, touched by hand on a real window."""

import fieldapp.ui  # noqa: F401  settles Kivy's surroundings before any module imports Kivy
