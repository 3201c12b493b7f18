-- Jobs.
SELECT id, name, created FROM job ORDER BY id;
