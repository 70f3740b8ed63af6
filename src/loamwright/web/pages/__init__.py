"""Pages of the workbench: every module here that holds a ``PAGE`` is one."""
