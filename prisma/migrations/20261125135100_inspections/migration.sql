-- AlterEnum
ALTER TYPE "visit_kind" ADD VALUE 'local' BEFORE 'final';

-- AlterTable
ALTER TABLE "check" ADD COLUMN     "local_visit" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "source" TEXT NOT NULL DEFAULT '',
ALTER COLUMN "version_id" DROP NOT NULL;

-- AlterTable
ALTER TABLE "visit" ADD COLUMN     "local_visit" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "plan_number" INTEGER NOT NULL DEFAULT 0;

-- CreateTable
CREATE TABLE "inspection_plan" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "content" TEXT NOT NULL,
    "words" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "inspection_plan_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "hold_acceptance" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID NOT NULL,
    "set_id" UUID NOT NULL,
    "step" TEXT NOT NULL,
    "basis" TEXT NOT NULL,
    "covers" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "hold_acceptance_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "inspection_plan_project_id_number_key" ON "inspection_plan"("project_id", "number");

-- CreateIndex
CREATE INDEX "hold_acceptance_opening_id_idx" ON "hold_acceptance"("opening_id");

-- AddForeignKey
ALTER TABLE "inspection_plan" ADD CONSTRAINT "inspection_plan_project_id_fkey" FOREIGN KEY ("project_id") REFERENCES "project"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "hold_acceptance" ADD CONSTRAINT "hold_acceptance_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "hold_acceptance" ADD CONSTRAINT "hold_acceptance_set_id_fkey" FOREIGN KEY ("set_id") REFERENCES "approved_set"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ── What Prisma cannot express ──────────────────────────────────────────────────────────────────────────

DO $$
DECLARE
  name text;
BEGIN
  FOREACH name IN ARRAY ARRAY['inspection_plan', 'hold_acceptance'] LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()',
                   name || '_immutable', name);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()',
                   name || '_kept', name);
  END LOOP;
END;
$$;

-- A check comes from an approved version, or says where else from.
ALTER TABLE "check" ADD CONSTRAINT check_has_a_source CHECK ((version_id IS NULL) = (source <> ''));
ALTER TABLE inspection_plan ADD CONSTRAINT inspection_plan_number_positive CHECK (number > 0);
ALTER TABLE hold_acceptance ADD CONSTRAINT hold_acceptance_basis_given CHECK (length(trim(basis)) > 0);
