-- The orders in which lists are read, so that a page of them costs the same however long they are.

-- Items along the load path, N2 before N10 (src/record/items/store.ts), of an opening and of a project.
CREATE INDEX item_opening_list ON item (opening_id, kind, length(key), key, id);
CREATE INDEX item_project_list ON item (project_id, kind, length(key), key, id);

-- A drawing's file by its hash, within its project. The index by hash alone stays for the sweep of files.
CREATE INDEX "attachment_project_id_sha256_id_idx" ON "attachment"("project_id", "sha256", "id");

-- Checks of other sets that ask the same of another version.
CREATE INDEX "check_key_version_id_idx" ON "check"("key", "version_id");

-- The threads of an item in the order they were begun.
CREATE INDEX "question_item_id_at_id_idx" ON "question"("item_id", "at", "id");
