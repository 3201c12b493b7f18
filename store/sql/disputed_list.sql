-- Disputed.
SELECT canonical FROM disputed WHERE job = $1 ORDER BY arrival, id;
