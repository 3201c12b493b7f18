-- EventsSince.
SELECT arrival, canonical FROM event
WHERE job = $1 AND arrival > $2 ORDER BY arrival LIMIT $3;
