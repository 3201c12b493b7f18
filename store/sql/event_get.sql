-- Append, to see by what an id is taken.
SELECT job, arrival, sha256 FROM event WHERE id = $1;
