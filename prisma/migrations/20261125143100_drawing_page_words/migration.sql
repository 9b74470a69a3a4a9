-- The words of drawings page by page, so that a search can say on which page they stand, and an index over them.

-- CreateTable
CREATE TABLE "drawing_page" (
    "attachment_id" UUID NOT NULL,
    "page" INTEGER NOT NULL,
    "project_id" UUID NOT NULL,
    "text" TEXT NOT NULL,

    CONSTRAINT "drawing_page_pkey" PRIMARY KEY ("attachment_id","page")
);

-- CreateIndex
CREATE INDEX "drawing_page_project_id_idx" ON "drawing_page"("project_id");

-- AddForeignKey
ALTER TABLE "drawing_page" ADD CONSTRAINT "drawing_page_attachment_id_fkey" FOREIGN KEY ("attachment_id") REFERENCES "attachment"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ── What Prisma cannot express ──────────────────────────────────────────────────────────────────────────

-- Words as they stand, in no language: sheet numbers, sizes and names are what is searched for.
-- The beginning of a page is enough, and never near the 1 MB that a tsvector may have.
CREATE INDEX drawing_page_words ON drawing_page USING gin (to_tsvector('simple'::regconfig, left(text, 60000)));
ALTER TABLE drawing_page ADD CONSTRAINT drawing_page_counted CHECK (page > 0);

-- What was read before was not told apart by pages; it stands with the first, and with the right one once the
-- drawing is sent again.
INSERT INTO drawing_page (attachment_id, page, project_id, text)
  SELECT attachment_id, 1, project_id, text FROM attachment_text;
DROP TABLE attachment_text;

CREATE TRIGGER drawing_page_immutable BEFORE UPDATE OR DELETE ON drawing_page
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER drawing_page_kept BEFORE TRUNCATE ON drawing_page
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
