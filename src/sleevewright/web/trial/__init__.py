"""A job without a name: the plan page of a few numbers, planned again as they are typed."""
