"""The commands: one file each; what one needs is imported when it is called."""
