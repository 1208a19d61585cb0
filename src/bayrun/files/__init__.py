"""Job files: read, write, rewrite, publish their schema; and imports of plans drawn elsewhere."""

from bayrun.files.defects import Defect, JobFileError
from bayrun.files.jobfile import parse_job, read_job
from bayrun.files.jobschema import job_schema
from bayrun.files.jobwrite import rewrite, write_job

__all__ = ["Defect", "JobFileError", "job_schema", "parse_job", "read_job", "rewrite", "write_job"]
