-- SaveRevision, after revision_newest in the same transaction.
INSERT INTO revision (job, n, sha256, parent, author, time, bytes)
VALUES ($1, $2, $3, $4, $5, $6, $7);
