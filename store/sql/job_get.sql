-- Job.
SELECT id, name, created FROM job WHERE id = $1;
