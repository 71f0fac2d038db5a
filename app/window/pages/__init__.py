"""The pages of the workbench, in the order of the job."""
