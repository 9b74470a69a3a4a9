-- Findings that a phone kept while it had no network: delivered under the ids the phone made, with the times it told.

-- CreateEnum
CREATE TYPE "phone_time" AS ENUM ('as_told', 'clock_corrected', 'bounded');

-- AlterEnum
ALTER TYPE "attachment_subject" ADD VALUE 'phone_finding';

-- CreateTable
CREATE TABLE "phone_finding" (
    "id" UUID NOT NULL,
    "project_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "check_id" UUID NOT NULL,
    "result" "finding_result" NOT NULL,
    "reason" TEXT NOT NULL,
    "location" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "claimed_at" TIMESTAMPTZ(3) NOT NULL,
    "phone_now_at" TIMESTAMPTZ(3) NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "time_word" "phone_time" NOT NULL,
    "received_at" TIMESTAMPTZ(3) NOT NULL,
    "finding_id" UUID,

    CONSTRAINT "phone_finding_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "phone_photo" (
    "id" UUID NOT NULL,
    "project_id" UUID NOT NULL,
    "phone_finding_id" UUID NOT NULL,
    "ordinal" INTEGER NOT NULL,
    "original_name" TEXT NOT NULL,
    "bytes" BIGINT NOT NULL,

    CONSTRAINT "phone_photo_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "phone_photo_arrival" (
    "photo_id" UUID NOT NULL,
    "project_id" UUID NOT NULL,
    "attachment_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "phone_photo_arrival_pkey" PRIMARY KEY ("photo_id")
);

-- CreateTable
CREATE TABLE "late_placing" (
    "phone_finding_id" UUID NOT NULL,
    "project_id" UUID NOT NULL,
    "finding_id" UUID,
    "reason" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "late_placing_pkey" PRIMARY KEY ("phone_finding_id")
);

-- CreateIndex
CREATE UNIQUE INDEX "phone_finding_finding_id_key" ON "phone_finding"("finding_id");

-- CreateIndex
CREATE INDEX "phone_finding_visit_id_idx" ON "phone_finding"("visit_id");

-- CreateIndex
CREATE INDEX "phone_finding_project_id_idx" ON "phone_finding"("project_id");

-- CreateIndex
CREATE INDEX "phone_photo_project_id_idx" ON "phone_photo"("project_id");

-- CreateIndex
CREATE UNIQUE INDEX "phone_photo_phone_finding_id_ordinal_key" ON "phone_photo"("phone_finding_id", "ordinal");

-- CreateIndex
CREATE INDEX "phone_photo_arrival_attachment_id_idx" ON "phone_photo_arrival"("attachment_id");

-- CreateIndex
CREATE UNIQUE INDEX "late_placing_finding_id_key" ON "late_placing"("finding_id");

-- CreateIndex
CREATE INDEX "late_placing_project_id_idx" ON "late_placing"("project_id");

-- AddForeignKey
ALTER TABLE "phone_finding" ADD CONSTRAINT "phone_finding_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "phone_finding" ADD CONSTRAINT "phone_finding_check_id_fkey" FOREIGN KEY ("check_id") REFERENCES "check"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "phone_finding" ADD CONSTRAINT "phone_finding_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "phone_photo" ADD CONSTRAINT "phone_photo_phone_finding_id_fkey" FOREIGN KEY ("phone_finding_id") REFERENCES "phone_finding"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "phone_photo_arrival" ADD CONSTRAINT "phone_photo_arrival_photo_id_fkey" FOREIGN KEY ("photo_id") REFERENCES "phone_photo"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "phone_photo_arrival" ADD CONSTRAINT "phone_photo_arrival_attachment_id_fkey" FOREIGN KEY ("attachment_id") REFERENCES "attachment"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "late_placing" ADD CONSTRAINT "late_placing_phone_finding_id_fkey" FOREIGN KEY ("phone_finding_id") REFERENCES "phone_finding"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "late_placing" ADD CONSTRAINT "late_placing_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- ── What Prisma cannot express ──────────────────────────────────────────────────────────────────────────

DO $$
DECLARE
  name text;
BEGIN
  FOREACH name IN ARRAY ARRAY['phone_finding', 'phone_photo', 'phone_photo_arrival', 'late_placing'] LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()',
                   name || '_immutable', name);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()',
                   name || '_kept', name);
  END LOOP;
END;
$$;

ALTER TABLE phone_finding ADD CONSTRAINT phone_finding_not_from_the_future CHECK (at <= received_at);
ALTER TABLE phone_photo ADD CONSTRAINT phone_photo_bytes_positive CHECK (bytes > 0);
ALTER TABLE phone_photo ADD CONSTRAINT phone_photo_ordinal_positive CHECK (ordinal > 0);
ALTER TABLE late_placing ADD CONSTRAINT late_placing_says_something CHECK (finding_id IS NOT NULL OR reason <> '');
