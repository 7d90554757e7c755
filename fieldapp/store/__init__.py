"""Where entries, drafts and keys are kept on this tablet, so that nothing is lost."""
