-- What a drawing has in it, where a photo was taken, uploads that go on after a break, and notes drawn over files.

-- AlterTable
ALTER TABLE "attachment" ADD COLUMN "latitude" DOUBLE PRECISION,
ADD COLUMN "longitude" DOUBLE PRECISION,
ADD COLUMN "page_count" INTEGER;

-- CreateTable
CREATE TABLE "attachment_text" (
    "attachment_id" UUID NOT NULL,
    "project_id" UUID NOT NULL,
    "text" TEXT NOT NULL,

    CONSTRAINT "attachment_text_pkey" PRIMARY KEY ("attachment_id")
);

-- CreateTable
CREATE TABLE "upload" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "original_name" TEXT NOT NULL,
    "bytes" BIGINT NOT NULL,
    "subject" "attachment_subject" NOT NULL,
    "subject_id" UUID NOT NULL,
    "caption" TEXT NOT NULL,
    "keep_position" BOOLEAN NOT NULL DEFAULT false,
    "attachment_id" UUID,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "upload_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sheet_note" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "attachment_id" UUID NOT NULL,
    "note_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "content" TEXT NOT NULL,
    "item_id" UUID,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sheet_note_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "attachment_text_project_id_idx" ON "attachment_text"("project_id");

-- CreateIndex
CREATE INDEX "upload_person_id_idx" ON "upload"("person_id");

-- CreateIndex
CREATE INDEX "upload_created_at_idx" ON "upload"("created_at");

-- CreateIndex
CREATE INDEX "sheet_note_attachment_id_idx" ON "sheet_note"("attachment_id");

-- CreateIndex
CREATE INDEX "sheet_note_item_id_idx" ON "sheet_note"("item_id");

-- CreateIndex
CREATE UNIQUE INDEX "sheet_note_note_id_number_key" ON "sheet_note"("note_id", "number");

-- AddForeignKey
ALTER TABLE "attachment_text" ADD CONSTRAINT "attachment_text_attachment_id_fkey" FOREIGN KEY ("attachment_id") REFERENCES "attachment"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "sheet_note" ADD CONSTRAINT "sheet_note_attachment_id_fkey" FOREIGN KEY ("attachment_id") REFERENCES "attachment"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ── What Prisma cannot express ──────────────────────────────────────────────────────────────────────────

DO $$
DECLARE
  name text;
BEGIN
  FOREACH name IN ARRAY ARRAY['attachment_text', 'sheet_note'] LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()',
                   name || '_immutable', name);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()',
                   name || '_kept', name);
  END LOOP;
END;
$$;

ALTER TABLE sheet_note ADD CONSTRAINT sheet_note_number_positive CHECK (number > 0);
ALTER TABLE upload ADD CONSTRAINT upload_bytes_positive CHECK (bytes > 0);
ALTER TABLE attachment ADD CONSTRAINT attachment_position_on_earth
  CHECK ((latitude IS NULL) = (longitude IS NULL) AND abs(latitude) <= 90 AND abs(longitude) <= 180);
