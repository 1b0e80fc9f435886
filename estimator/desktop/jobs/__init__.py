"""The page of all jobs: find, filter, what needs me today."""
