-- CreateJob, SaveRevision and Append, to know the job and keep others from counting
-- in it meanwhile. SQLite holds the whole database for a transaction that writes.
SELECT id, name, created FROM job WHERE id = $1;
