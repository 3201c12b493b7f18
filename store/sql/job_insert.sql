-- CreateJob. Sending twice changes nothing.
INSERT INTO job (id, name, created) VALUES ($1, $2, $3)
ON CONFLICT (id) DO NOTHING;
