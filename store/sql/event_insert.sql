-- Append, with the job held. No row when the id is taken. The next place in the job's
-- order of arrival is counted here.
INSERT INTO event (id, job, arrival, sha256, canonical)
VALUES ($1, $2, (SELECT COALESCE(MAX(arrival), 0) + 1 FROM event WHERE job = $2), $3, $4)
ON CONFLICT (id) DO NOTHING
RETURNING arrival;
