-- Append, to see whether an id is taken, and by what.
SELECT job, arrival, sha256 FROM event WHERE id = $1;
