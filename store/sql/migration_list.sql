-- migrate: what has been run on this database.
SELECT n, name, sha256 FROM migration ORDER BY n;
