"""What the file is called."""

FILE_NAME = "work.perpend"
