//! The HTTP twin of the desktop shell.
