-- History.
SELECT job, n, sha256, parent, author, time, NULL FROM revision
WHERE job = $1 ORDER BY n;
