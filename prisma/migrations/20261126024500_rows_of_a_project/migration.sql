-- What is verified or packed is read project by project: without these the whole table was read for it.
CREATE INDEX "submission_project_id_idx" ON "submission" ("project_id");
CREATE INDEX "approved_set_project_id_idx" ON "approved_set" ("project_id");
CREATE INDEX "visit_closing_project_id_idx" ON "visit_closing" ("project_id");
CREATE INDEX "correction_answer_project_id_idx" ON "correction_answer" ("project_id");
CREATE INDEX "sheet_note_project_id_idx" ON "sheet_note" ("project_id");
CREATE INDEX "phone_photo_arrival_project_id_idx" ON "phone_photo_arrival" ("project_id");
CREATE INDEX "visit_project_id_idx" ON "visit" ("project_id");
CREATE INDEX "hold_acceptance_project_id_idx" ON "hold_acceptance" ("project_id");
CREATE INDEX "visit_set_choice_project_id_idx" ON "visit_set_choice" ("project_id");
CREATE INDEX "visit_call_project_id_idx" ON "visit_call" ("project_id");
