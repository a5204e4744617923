"""Pictures as SVG: lengths on a sheet from values of a plan, and nothing computed."""
