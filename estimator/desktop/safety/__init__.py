"""What keeps work safe on the desk: backups, restoring, and what is said when all goes wrong."""
