"""The price book as a page: find, edit, import, uplift."""
