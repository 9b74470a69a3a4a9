-- CreateEnum
CREATE TYPE "self_check_word" AS ENUM ('ready', 'not_ready', 'not_applicable');

-- AlterTable
ALTER TABLE "finding" ADD COLUMN "sheet_id" UUID, ADD COLUMN "square" TEXT NOT NULL DEFAULT '';

-- CreateTable
CREATE TABLE "correction_disturbed" (
    "answer_id" UUID NOT NULL,
    "check_id" UUID NOT NULL,

    CONSTRAINT "correction_disturbed_pkey" PRIMARY KEY ("answer_id","check_id")
);

-- CreateTable
CREATE TABLE "visit_set_choice" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "set_id" UUID NOT NULL,
    "goes_on" BOOLEAN NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "visit_set_choice_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "self_check" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "check_id" UUID NOT NULL,
    "word" "self_check_word" NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "self_check_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "visit_call" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID NOT NULL,
    "set_id" UUID NOT NULL,
    "visit_key" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "shared" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "visit_call_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "correction_disturbed_check_id_idx" ON "correction_disturbed"("check_id");
CREATE INDEX "visit_set_choice_visit_id_idx" ON "visit_set_choice"("visit_id");
CREATE INDEX "self_check_check_id_idx" ON "self_check"("check_id");
CREATE INDEX "self_check_project_id_idx" ON "self_check"("project_id");
CREATE INDEX "visit_call_opening_id_idx" ON "visit_call"("opening_id");

-- AddForeignKey
ALTER TABLE "finding" ADD CONSTRAINT "finding_sheet_id_fkey" FOREIGN KEY ("sheet_id") REFERENCES "attachment"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "correction_disturbed" ADD CONSTRAINT "correction_disturbed_answer_id_fkey" FOREIGN KEY ("answer_id") REFERENCES "correction_answer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "correction_disturbed" ADD CONSTRAINT "correction_disturbed_check_id_fkey" FOREIGN KEY ("check_id") REFERENCES "check"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "visit_set_choice" ADD CONSTRAINT "visit_set_choice_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "visit_set_choice" ADD CONSTRAINT "visit_set_choice_set_id_fkey" FOREIGN KEY ("set_id") REFERENCES "approved_set"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "self_check" ADD CONSTRAINT "self_check_check_id_fkey" FOREIGN KEY ("check_id") REFERENCES "check"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "visit_call" ADD CONSTRAINT "visit_call_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "visit_call" ADD CONSTRAINT "visit_call_set_id_fkey" FOREIGN KEY ("set_id") REFERENCES "approved_set"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ── What Prisma cannot express ──────────────────────────────────────────────────────────────────────────

DO $$
DECLARE
  name text;
BEGIN
  FOREACH name IN ARRAY ARRAY['correction_disturbed', 'visit_set_choice', 'self_check', 'visit_call'] LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()',
                   name || '_immutable', name);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()',
                   name || '_kept', name);
  END LOOP;
END;
$$;

-- A place is on a sheet: the one without the other says nothing.
ALTER TABLE finding ADD CONSTRAINT finding_square_on_sheet CHECK ((sheet_id IS NULL) = (square = ''));
