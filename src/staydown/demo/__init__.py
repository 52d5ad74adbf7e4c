"""The files of the demo job: an invented rig with invented figures."""
