-- Newest; SaveRevision, to compare with the draft's parent.
SELECT job, n, sha256, parent, author, time, bytes FROM revision
WHERE job = $1 ORDER BY n DESC LIMIT 1;
