-- The owner's page: what owner and contractor ask each other there, and links for the family that only show it.

-- CreateTable
CREATE TABLE "owner_word" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID NOT NULL,
    "thread_id" UUID,
    "text" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "by_role" "role" NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "owner_word_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "family_link" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID NOT NULL,
    "label" TEXT NOT NULL,
    "token_hash" TEXT NOT NULL,
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "revoked_at" TIMESTAMPTZ(3),

    CONSTRAINT "family_link_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "owner_word_project_id_opening_id_idx" ON "owner_word"("project_id", "opening_id");

-- CreateIndex
CREATE UNIQUE INDEX "family_link_token_hash_key" ON "family_link"("token_hash");

-- CreateIndex
CREATE INDEX "family_link_project_id_opening_id_idx" ON "family_link"("project_id", "opening_id");

-- AddForeignKey
ALTER TABLE "owner_word" ADD CONSTRAINT "owner_word_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "family_link" ADD CONSTRAINT "family_link_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ── What Prisma cannot express ──────────────────────────────────────────────────────────────────────────

CREATE TRIGGER owner_word_immutable BEFORE UPDATE OR DELETE ON owner_word
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER owner_word_kept BEFORE TRUNCATE ON owner_word
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
