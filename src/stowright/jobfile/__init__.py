"""The job file: TOML to model values and back, mistakes, schema."""
