"""Values with doubt: budgets, sampling, coverage and the rule of decision."""
