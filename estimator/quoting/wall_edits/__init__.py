"""Every change a person can make to a drawn wall, as one frozen work to the next."""
