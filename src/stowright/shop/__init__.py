"""The shop's records: jobs and versions, stock, prices."""
