"""What was seen or told: the survey, its file, its ranges, and whether the job may be priced."""
