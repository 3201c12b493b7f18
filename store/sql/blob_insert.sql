-- PutBlob. Sending twice changes nothing.
INSERT INTO blob (sha256, bytes) VALUES ($1, $2)
ON CONFLICT (sha256) DO NOTHING;
