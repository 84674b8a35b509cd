"""The drawings of the report, one a file: each takes an assessment, units and a width, and gives vector shapes."""
