-- Export.
SELECT sha256 FROM blob ORDER BY sha256;
