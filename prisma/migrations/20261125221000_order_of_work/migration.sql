-- CreateEnum
CREATE TYPE "salvage_word_kind" AS ENUM ('keep', 'give_away', 'throw_away', 'gone', 'taken_off');

-- AlterEnum
ALTER TYPE "attachment_subject" ADD VALUE 'work_entry';
ALTER TYPE "attachment_subject" ADD VALUE 'salvage_line';

-- CreateTable
CREATE TABLE "sequence_plan" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "content" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sequence_plan_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "work_entry" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "step" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "done_on" TEXT NOT NULL,
    "who" TEXT NOT NULL,
    "note" TEXT NOT NULL,
    "out_of_order" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "work_entry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "work_withdrawal" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "work_entry_id" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "work_withdrawal_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "salvage_line" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "what" TEXT NOT NULL,
    "how_many" TEXT NOT NULL,
    "condition" TEXT NOT NULL,
    "kept_at" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "salvage_line_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "salvage_word" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "salvage_line_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "word" "salvage_word_kind" NOT NULL,
    "note" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "salvage_word_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "sequence_plan_opening_id_number_key" ON "sequence_plan"("opening_id", "number");
CREATE UNIQUE INDEX "work_entry_opening_id_number_key" ON "work_entry"("opening_id", "number");
CREATE UNIQUE INDEX "salvage_line_opening_id_number_key" ON "salvage_line"("opening_id", "number");
CREATE UNIQUE INDEX "work_withdrawal_work_entry_id_key" ON "work_withdrawal"("work_entry_id");
CREATE UNIQUE INDEX "salvage_word_salvage_line_id_number_key" ON "salvage_word"("salvage_line_id", "number");
CREATE INDEX "sequence_plan_project_id_idx" ON "sequence_plan"("project_id");
CREATE INDEX "work_entry_project_id_idx" ON "work_entry"("project_id");
CREATE INDEX "work_withdrawal_project_id_idx" ON "work_withdrawal"("project_id");
CREATE INDEX "salvage_line_project_id_idx" ON "salvage_line"("project_id");
CREATE INDEX "salvage_word_project_id_idx" ON "salvage_word"("project_id");

-- AddForeignKey
ALTER TABLE "sequence_plan" ADD CONSTRAINT "sequence_plan_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "work_entry" ADD CONSTRAINT "work_entry_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "work_withdrawal" ADD CONSTRAINT "work_withdrawal_work_entry_id_fkey" FOREIGN KEY ("work_entry_id") REFERENCES "work_entry"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "salvage_line" ADD CONSTRAINT "salvage_line_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "salvage_word" ADD CONSTRAINT "salvage_word_salvage_line_id_fkey" FOREIGN KEY ("salvage_line_id") REFERENCES "salvage_line"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ── What Prisma cannot express ──────────────────────────────────────────────────────────────────────────

DO $$
DECLARE
  name text;
BEGIN
  FOREACH name IN ARRAY ARRAY['sequence_plan', 'work_entry', 'work_withdrawal', 'salvage_line', 'salvage_word'] LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()',
                   name || '_immutable', name);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()',
                   name || '_kept', name);
  END LOOP;
END;
$$;

ALTER TABLE work_entry ADD CONSTRAINT work_entry_day CHECK (done_on ~ '^[0-9]{4}-[0-9]{2}-[0-9]{2}$');
ALTER TABLE work_entry ADD CONSTRAINT work_entry_who_given CHECK (length(trim(who)) > 0);
ALTER TABLE work_withdrawal ADD CONSTRAINT work_withdrawal_reasoned CHECK (length(trim(reason)) > 0);
ALTER TABLE salvage_line ADD CONSTRAINT salvage_line_named CHECK (length(trim(what)) > 0);
