-- Forms that were sent after the session had ended, and failed sign-ins counted for each address.

-- CreateTable
CREATE TABLE "kept_form" (
    "id" TEXT NOT NULL,
    "person_id" UUID NOT NULL,
    "body" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "kept_form_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sign_in_attempt" (
    "address_hash" TEXT NOT NULL,
    "attempts" INTEGER NOT NULL,
    "last_at" TIMESTAMPTZ(3) NOT NULL,
    "barred_until" TIMESTAMPTZ(3),

    CONSTRAINT "sign_in_attempt_pkey" PRIMARY KEY ("address_hash")
);

-- CreateIndex
CREATE INDEX "kept_form_person_id_idx" ON "kept_form"("person_id");

-- CreateIndex
CREATE INDEX "kept_form_expires_at_idx" ON "kept_form"("expires_at");

-- CreateIndex
CREATE INDEX "sign_in_attempt_last_at_idx" ON "sign_in_attempt"("last_at");

-- AddForeignKey
ALTER TABLE "kept_form" ADD CONSTRAINT "kept_form_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- ── What Prisma cannot express ──────────────────────────────────────────────────────────────────────────

ALTER TABLE sign_in_attempt ADD CONSTRAINT sign_in_attempt_attempts_positive CHECK (attempts > 0);
