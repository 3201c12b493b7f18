-- CreateJob, to compare with what is there; SaveRevision and Append, to know the job.
SELECT id, name, created FROM job WHERE id = $1;
