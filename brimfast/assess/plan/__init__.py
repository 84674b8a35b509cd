"""Which measures, in which order: every combination that is tried is assessed by the pipeline."""
