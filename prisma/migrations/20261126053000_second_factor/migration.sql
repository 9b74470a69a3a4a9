-- A second factor, as a choice of each person: the secret that one-time codes are made from.
CREATE TABLE "second_factor" (
    "person_id" UUID NOT NULL,
    "sealed_secret" TEXT NOT NULL,
    "begun_at" TIMESTAMPTZ(3) NOT NULL,
    "confirmed_at" TIMESTAMPTZ(3),
    "last_step" BIGINT,

    CONSTRAINT "second_factor_pkey" PRIMARY KEY ("person_id")
);

-- Ten at a time, each good once.
CREATE TABLE "recovery_code" (
    "code_hash" TEXT NOT NULL CHECK ("code_hash" ~ '^[0-9a-f]{64}$'),
    "person_id" UUID NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3),

    CONSTRAINT "recovery_code_pkey" PRIMARY KEY ("code_hash")
);

-- The password was right, the code is still to come: no session yet.
CREATE TABLE "begun_sign_in" (
    "id" TEXT NOT NULL CHECK ("id" ~ '^[0-9a-f]{64}$'),
    "person_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "begun_sign_in_pkey" PRIMARY KEY ("id")
);

CREATE INDEX "recovery_code_person_id_idx" ON "recovery_code"("person_id");
CREATE INDEX "begun_sign_in_person_id_idx" ON "begun_sign_in"("person_id");
CREATE INDEX "begun_sign_in_expires_at_idx" ON "begun_sign_in"("expires_at");

ALTER TABLE "second_factor" ADD CONSTRAINT "second_factor_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE CASCADE;
ALTER TABLE "recovery_code" ADD CONSTRAINT "recovery_code_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE CASCADE;
ALTER TABLE "begun_sign_in" ADD CONSTRAINT "begun_sign_in_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- What a person needs to know their own sessions apart.
ALTER TABLE "session"
    ADD COLUMN "last_seen_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    ADD COLUMN "browser" TEXT NOT NULL DEFAULT '';
UPDATE "session" SET "last_seen_at" = "created_at";
