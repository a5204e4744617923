"""The page of a job's price: options side by side, what is agreed, the invoice."""
