"""What a person sees and touches. Kivy lives here and nowhere else."""

from fieldapp.ui.surroundings import prepare_kivy

prepare_kivy()
