-- The address under which a person's calendar program reads their visits: one for each person, by its hash.
CREATE TABLE "calendar_address" (
    "person_id" UUID NOT NULL,
    "token_hash" TEXT NOT NULL CHECK ("token_hash" ~ '^[0-9a-f]{64}$'),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "calendar_address_pkey" PRIMARY KEY ("person_id")
);

CREATE UNIQUE INDEX "calendar_address_token_hash_key" ON "calendar_address"("token_hash");

ALTER TABLE "calendar_address" ADD CONSTRAINT "calendar_address_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE CASCADE;
