# Words of the command line and of the calendar file.
