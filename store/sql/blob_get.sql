-- Blob.
SELECT bytes FROM blob WHERE sha256 = $1;
