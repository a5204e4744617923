"""Use cases: one public function each, the only layer that touches files for the shells."""
