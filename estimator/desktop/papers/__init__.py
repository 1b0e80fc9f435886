"""The paper beside the desk: checked, issued, saved, sent."""
