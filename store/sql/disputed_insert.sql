-- Append, for an event whose id is taken by another body.
INSERT INTO disputed (id, job, arrival, sha256, canonical)
VALUES ($1, $2, (SELECT COALESCE(MAX(arrival), 0) + 1 FROM disputed WHERE job = $2), $3, $4)
ON CONFLICT (id, sha256) DO NOTHING;
