"""What commands on this machine ask of the bench that runs."""
