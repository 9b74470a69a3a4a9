-- What was ordered, what came, how it compares with the approved set, and what went back.

-- AlterEnum
ALTER TYPE "attachment_subject" ADD VALUE 'delivery_line';

-- CreateEnum
CREATE TYPE "delivery_withdrawal_reason" AS ENUM ('sent_back', 'entered_wrongly');

-- CreateTable
CREATE TABLE "material_order" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID NOT NULL,
    "set_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "yard" TEXT NOT NULL,
    "lines" TEXT NOT NULL,
    "note" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "material_order_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "delivery" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "yard" TEXT NOT NULL,
    "note" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "delivery_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "delivery_line" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "delivery_id" UUID NOT NULL,
    "client_key" TEXT NOT NULL,
    "set_id" UUID NOT NULL,
    "line_id" TEXT NOT NULL,
    "called_for" TEXT NOT NULL,
    "delivered" TEXT NOT NULL,
    "count" DOUBLE PRECISION NOT NULL,
    "off_ground" BOOLEAN NOT NULL,
    "covered" BOOLEAN NOT NULL,
    "differences" TEXT NOT NULL,
    "note" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "delivery_line_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "delivery_withdrawal" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "delivery_line_id" UUID NOT NULL,
    "reason" "delivery_withdrawal_reason" NOT NULL,
    "note" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "delivery_withdrawal_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "material_order_project_id_idx" ON "material_order"("project_id");

-- CreateIndex
CREATE UNIQUE INDEX "material_order_opening_id_number_key" ON "material_order"("opening_id", "number");

-- CreateIndex
CREATE INDEX "delivery_project_id_idx" ON "delivery"("project_id");

-- CreateIndex
CREATE UNIQUE INDEX "delivery_opening_id_number_key" ON "delivery"("opening_id", "number");

-- CreateIndex
CREATE INDEX "delivery_line_project_id_idx" ON "delivery_line"("project_id");

-- CreateIndex
CREATE UNIQUE INDEX "delivery_line_delivery_id_client_key_key" ON "delivery_line"("delivery_id", "client_key");

-- CreateIndex
CREATE INDEX "delivery_withdrawal_project_id_idx" ON "delivery_withdrawal"("project_id");

-- CreateIndex
CREATE UNIQUE INDEX "delivery_withdrawal_delivery_line_id_key" ON "delivery_withdrawal"("delivery_line_id");

-- AddForeignKey
ALTER TABLE "material_order" ADD CONSTRAINT "material_order_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "material_order" ADD CONSTRAINT "material_order_set_id_fkey" FOREIGN KEY ("set_id") REFERENCES "approved_set"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "delivery" ADD CONSTRAINT "delivery_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "delivery_line" ADD CONSTRAINT "delivery_line_delivery_id_fkey" FOREIGN KEY ("delivery_id") REFERENCES "delivery"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "delivery_line" ADD CONSTRAINT "delivery_line_set_id_fkey" FOREIGN KEY ("set_id") REFERENCES "approved_set"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "delivery_withdrawal" ADD CONSTRAINT "delivery_withdrawal_delivery_line_id_fkey" FOREIGN KEY ("delivery_line_id") REFERENCES "delivery_line"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ── What Prisma cannot express ──────────────────────────────────────────────────────────────────────────

DO $$
DECLARE
  name text;
BEGIN
  FOREACH name IN ARRAY ARRAY['material_order', 'delivery', 'delivery_line', 'delivery_withdrawal'] LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()',
                   name || '_immutable', name);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()',
                   name || '_kept', name);
  END LOOP;
END;
$$;

ALTER TABLE delivery_line ADD CONSTRAINT delivery_line_count_positive CHECK (count > 0 AND count < 1e9);
ALTER TABLE material_order ADD CONSTRAINT material_order_number_positive CHECK (number > 0);
ALTER TABLE delivery ADD CONSTRAINT delivery_number_positive CHECK (number > 0);
