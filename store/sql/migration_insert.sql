-- migrate: note a migration, in its own transaction.
INSERT INTO migration (n, name, sha256) VALUES ($1, $2, $3);
