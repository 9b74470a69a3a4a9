-- Being told: who is to hear of which line of the log, and the letters that go out for it. No part of the record.

-- CreateEnum
CREATE TYPE "mail_choice" AS ENUM ('at_once', 'daily', 'none');

-- CreateEnum
CREATE TYPE "letter_state" AS ENUM ('ready', 'claimed', 'handing_over', 'sent', 'failed', 'unsure', 'dropped');

-- AlterTable
ALTER TABLE "person" ADD COLUMN     "mail_choice" "mail_choice" NOT NULL DEFAULT 'at_once';

-- CreateTable
CREATE TABLE "letter" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "key" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "person_id" UUID,
    "subject_id" UUID,
    "to_address" TEXT NOT NULL DEFAULT '',
    "state" "letter_state" NOT NULL DEFAULT 'ready',
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "claimed_at" TIMESTAMPTZ(3),
    "settled_at" TIMESTAMPTZ(3),
    "problem" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "letter_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "news" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "seq" INTEGER NOT NULL,
    "person_id" UUID NOT NULL,
    "role" "role" NOT NULL,
    "line" TEXT NOT NULL,
    "path" TEXT NOT NULL,
    "letter_id" UUID,
    "dropped_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "news_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "letter_key_key" ON "letter"("key");

-- CreateIndex
CREATE INDEX "letter_state_created_at_idx" ON "letter"("state", "created_at");

-- CreateIndex
CREATE INDEX "news_person_id_letter_id_idx" ON "news"("person_id", "letter_id");

-- CreateIndex
CREATE INDEX "news_letter_id_idx" ON "news"("letter_id");

-- CreateIndex
CREATE UNIQUE INDEX "news_project_id_seq_person_id_key" ON "news"("project_id", "seq", "person_id");

-- AddForeignKey
ALTER TABLE "letter" ADD CONSTRAINT "letter_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "news" ADD CONSTRAINT "news_project_id_fkey" FOREIGN KEY ("project_id") REFERENCES "project"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "news" ADD CONSTRAINT "news_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "news" ADD CONSTRAINT "news_letter_id_fkey" FOREIGN KEY ("letter_id") REFERENCES "letter"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- ── What Prisma cannot express ──────────────────────────────────────────────────────────────────────────

-- What is still to be gathered into a letter.
CREATE INDEX news_waiting ON news (created_at) WHERE letter_id IS NULL AND dropped_at IS NULL;

ALTER TABLE letter ADD CONSTRAINT letter_settled_once
  CHECK ((settled_at IS NOT NULL) = (state IN ('sent', 'failed', 'unsure', 'dropped')));

-- Told at commit, and only if the transaction commits. Ids only: a payload is read by whoever may LISTEN, and is
-- limited to 8,000 bytes. What was missed while nobody listened is read from the tables.
CREATE FUNCTION tell_event() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_notify('lintelbook_event', NEW.project_id || ' ' || NEW.seq);
  RETURN NULL;
END;
$$;
CREATE TRIGGER event_told AFTER INSERT ON event FOR EACH ROW EXECUTE FUNCTION tell_event();

CREATE FUNCTION tell_outbox() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_notify('lintelbook_outbox', TG_TABLE_NAME);
  RETURN NULL;
END;
$$;
CREATE TRIGGER news_told AFTER INSERT ON news FOR EACH STATEMENT EXECUTE FUNCTION tell_outbox();
CREATE TRIGGER letter_told AFTER INSERT ON letter FOR EACH STATEMENT EXECUTE FUNCTION tell_outbox();
