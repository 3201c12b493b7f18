-- job_hold; the row is held until the transaction ends.
SELECT id, name, created FROM job WHERE id = $1 FOR UPDATE;
