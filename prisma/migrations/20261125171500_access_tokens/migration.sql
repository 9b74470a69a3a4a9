-- What a program of a person's shows instead of a password: hashed, scoped, expiring, revocable.
CREATE TABLE "access_token" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "person_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "scopes" TEXT[] NOT NULL CHECK (cardinality("scopes") > 0 AND "scopes" <@ ARRAY['read', 'propose', 'mark', 'inspect']),
    "token_hash" TEXT NOT NULL CHECK ("token_hash" ~ '^[0-9a-f]{64}$'),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "last_used_at" TIMESTAMPTZ(3),
    "revoked_at" TIMESTAMPTZ(3),

    CONSTRAINT "access_token_pkey" PRIMARY KEY ("id")
);

CREATE UNIQUE INDEX "access_token_token_hash_key" ON "access_token"("token_hash");
CREATE INDEX "access_token_person_id_idx" ON "access_token"("person_id");

ALTER TABLE "access_token" ADD CONSTRAINT "access_token_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE CASCADE;
