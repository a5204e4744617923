"""The built manual, under the bench's own address."""
