"""What the tests of the store share: both databases."""

from store_servers import database_url, postgresql

__all__ = ["database_url", "postgresql"]
