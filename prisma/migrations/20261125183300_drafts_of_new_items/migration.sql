-- A draft is of an item, or of a new one of its kind in an opening (criteria: in the project) that is not there yet.
ALTER TABLE "draft" ADD COLUMN "project_id" UUID, ADD COLUMN "opening_id" UUID, ADD COLUMN "kind" "item_kind";
UPDATE "draft" SET "project_id" = "item"."project_id" FROM "item" WHERE "item"."id" = "draft"."item_id";
ALTER TABLE "draft" ALTER COLUMN "project_id" SET NOT NULL, ALTER COLUMN "item_id" DROP NOT NULL;

ALTER TABLE "draft" ADD CONSTRAINT "draft_of_one_thing"
    CHECK (("item_id" IS NULL) = ("kind" IS NOT NULL) AND ("item_id" IS NULL OR "opening_id" IS NULL));

-- One of a kind in a place for each person.
CREATE UNIQUE INDEX "draft_of_new_item_key" ON "draft"("person_id", "kind", COALESCE("opening_id", "project_id"))
    WHERE "item_id" IS NULL;

ALTER TABLE "draft" ADD CONSTRAINT "draft_project_id_fkey" FOREIGN KEY ("project_id") REFERENCES "project"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "draft" ADD CONSTRAINT "draft_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
