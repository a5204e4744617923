"""The core composed along the route of a job: plan(job, shop) -> Plan, pure."""
