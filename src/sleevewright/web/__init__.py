"""The bench in a browser: thin routes, templates and small ES modules."""
