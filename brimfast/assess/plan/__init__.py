"""Which measures, in which order: every set that is tried is assessed by the pipeline."""
