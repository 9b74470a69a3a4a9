-- AlterEnum
ALTER TYPE "item_kind" ADD VALUE 'service' AFTER 'survey';

-- CreateEnum
CREATE TYPE "service_word" AS ENUM ('made_safe', 'live_again', 'carried_out', 'checked');

-- CreateTable
CREATE TABLE "service_act" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "version_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "word" "service_word" NOT NULL,
    "who" TEXT NOT NULL,
    "note" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "service_act_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "service_act_project_id_idx" ON "service_act"("project_id");

-- CreateIndex
CREATE UNIQUE INDEX "service_act_item_id_number_key" ON "service_act"("item_id", "number");

-- AddForeignKey
ALTER TABLE "service_act" ADD CONSTRAINT "service_act_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "service_act" ADD CONSTRAINT "service_act_version_id_fkey" FOREIGN KEY ("version_id") REFERENCES "version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ── What Prisma cannot express ──────────────────────────────────────────────────────────────────────────

CREATE TRIGGER service_act_immutable BEFORE UPDATE OR DELETE ON service_act
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER service_act_kept BEFORE TRUNCATE ON service_act
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE service_act ADD CONSTRAINT service_act_number_positive CHECK (number > 0);
ALTER TABLE service_act ADD CONSTRAINT service_act_who_given CHECK (length(trim(who)) > 0);
