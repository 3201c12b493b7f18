-- Revision.
SELECT job, n, sha256, parent, author, time, bytes FROM revision
WHERE job = $1 AND n = $2;
