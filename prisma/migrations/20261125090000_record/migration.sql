-- CreateSchema
CREATE SCHEMA IF NOT EXISTS "public";

-- CreateEnum
CREATE TYPE "role" AS ENUM ('contractor', 'engineer', 'inspector', 'owner');

-- CreateEnum
CREATE TYPE "item_kind" AS ENUM ('criteria', 'survey', 'beam', 'support', 'footing', 'hanger', 'fastening', 'shoring', 'drawing');

-- CreateEnum
CREATE TYPE "mark_word" AS ENUM ('approved', 'revised', 'returned', 'withdrawn');

-- CreateEnum
CREATE TYPE "visit_kind" AS ENUM ('shoring', 'footing', 'framing', 'electrical', 'cover', 'final');

-- CreateEnum
CREATE TYPE "visit_outcome" AS ENUM ('passed', 'partial', 'correction_needed', 'not_ready', 'no_access', 'stop_work');

-- CreateEnum
CREATE TYPE "finding_result" AS ENUM ('pass', 'correction', 'not_applicable');

-- CreateEnum
CREATE TYPE "attachment_subject" AS ENUM ('project', 'opening', 'item', 'version', 'finding', 'correction_answer', 'question');

-- CreateTable
CREATE TABLE "person" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "email" TEXT,
    "name" TEXT NOT NULL,
    "password_hash" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "closed_at" TIMESTAMPTZ(3),

    CONSTRAINT "person_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "session" (
    "id" TEXT NOT NULL,
    "person_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "session_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "project" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "name" TEXT NOT NULL,
    "address" TEXT NOT NULL,
    "jurisdiction" TEXT NOT NULL,
    "permit_number" TEXT NOT NULL DEFAULT '',
    "prices_shared" BOOLEAN NOT NULL DEFAULT false,
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "project_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "membership" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "role" "role" NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "revoked_at" TIMESTAMPTZ(3),

    CONSTRAINT "membership_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "invitation" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "role" "role" NOT NULL,
    "label" TEXT NOT NULL,
    "token_hash" TEXT NOT NULL,
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3),
    "used_by_id" UUID,
    "withdrawn_at" TIMESTAMPTZ(3),

    CONSTRAINT "invitation_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "opening" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "ordinal" INTEGER NOT NULL,
    "name" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "opening_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "item" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID,
    "kind" "item_kind" NOT NULL,
    "key" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "item_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "version" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "content" TEXT NOT NULL,
    "rests_on" TEXT NOT NULL,
    "calculation" TEXT NOT NULL,
    "calculation_hash" TEXT NOT NULL,
    "engine_version" TEXT NOT NULL,
    "hash" TEXT NOT NULL,
    "reason" TEXT NOT NULL DEFAULT '',
    "author_id" UUID NOT NULL,
    "author_role" "role" NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "version_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "draft" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "person_id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "on_number" INTEGER NOT NULL,
    "body" TEXT NOT NULL,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "draft_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "submission" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "note" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "submission_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "submission_entry" (
    "submission_id" UUID NOT NULL,
    "version_id" UUID NOT NULL,

    CONSTRAINT "submission_entry_pkey" PRIMARY KEY ("submission_id","version_id")
);

-- CreateTable
CREATE TABLE "mark" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "version_id" UUID NOT NULL,
    "version_hash" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "word" "mark_word" NOT NULL,
    "reason" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "mark_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "approved_set" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "content" TEXT NOT NULL,
    "hash" TEXT NOT NULL,
    "note" TEXT NOT NULL,
    "issued_by_id" UUID NOT NULL,
    "issued_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "approved_set_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "set_entry" (
    "set_id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "version_id" UUID NOT NULL,
    "mark_id" UUID NOT NULL,

    CONSTRAINT "set_entry_pkey" PRIMARY KEY ("set_id","item_id")
);

-- CreateTable
CREATE TABLE "question" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "version_id" UUID,
    "thread_id" UUID,
    "text" TEXT NOT NULL,
    "closes" BOOLEAN NOT NULL DEFAULT false,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "question_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "event" (
    "project_id" UUID NOT NULL,
    "seq" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "actor_id" UUID,
    "actor_name" TEXT NOT NULL,
    "type" TEXT NOT NULL,
    "payload" TEXT NOT NULL,
    "prev_hash" TEXT NOT NULL,
    "hash" TEXT NOT NULL,

    CONSTRAINT "event_pkey" PRIMARY KEY ("project_id","seq")
);

-- CreateTable
CREATE TABLE "check" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "set_id" UUID NOT NULL,
    "version_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "ordinal" INTEGER NOT NULL,
    "visit_kind" "visit_kind" NOT NULL,
    "title" TEXT NOT NULL,
    "criterion" TEXT NOT NULL,
    "clause" TEXT NOT NULL,
    "how_to_look" TEXT NOT NULL,
    "photo_required" BOOLEAN NOT NULL,
    "hold_point" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "check_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "visit" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "opening_id" UUID NOT NULL,
    "set_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "kind" "visit_kind" NOT NULL,
    "opened_by_id" UUID NOT NULL,
    "opened_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "visit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "visit_closing" (
    "visit_id" UUID NOT NULL,
    "project_id" UUID NOT NULL,
    "outcome" "visit_outcome" NOT NULL,
    "portion" TEXT NOT NULL,
    "summary" TEXT NOT NULL,
    "signed_name" TEXT NOT NULL,
    "closed_by_id" UUID NOT NULL,
    "closed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "visit_closing_pkey" PRIMARY KEY ("visit_id")
);

-- CreateTable
CREATE TABLE "finding" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "check_id" UUID NOT NULL,
    "client_key" TEXT NOT NULL,
    "result" "finding_result" NOT NULL,
    "reason" TEXT NOT NULL,
    "location" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "received_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "finding_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "correction_answer" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "finding_id" UUID NOT NULL,
    "note" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "correction_answer_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "attachment" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "project_id" UUID NOT NULL,
    "sha256" TEXT NOT NULL,
    "bytes" BIGINT NOT NULL,
    "media_type" TEXT NOT NULL,
    "original_name" TEXT NOT NULL,
    "caption" TEXT NOT NULL DEFAULT '',
    "width_px" INTEGER,
    "height_px" INTEGER,
    "captured_at" TIMESTAMPTZ(3),
    "shared_with_owner" BOOLEAN NOT NULL DEFAULT false,
    "uploaded_by_id" UUID NOT NULL,
    "uploaded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "attachment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "attachment_link" (
    "attachment_id" UUID NOT NULL,
    "project_id" UUID NOT NULL,
    "subject" "attachment_subject" NOT NULL,
    "subject_id" UUID NOT NULL,

    CONSTRAINT "attachment_link_pkey" PRIMARY KEY ("attachment_id","subject","subject_id")
);

-- CreateIndex
CREATE UNIQUE INDEX "person_email_key" ON "person"("email");

-- CreateIndex
CREATE INDEX "session_person_id_idx" ON "session"("person_id");

-- CreateIndex
CREATE INDEX "session_expires_at_idx" ON "session"("expires_at");

-- CreateIndex
CREATE INDEX "membership_person_id_revoked_at_idx" ON "membership"("person_id", "revoked_at");

-- CreateIndex
CREATE INDEX "membership_project_id_revoked_at_idx" ON "membership"("project_id", "revoked_at");

-- CreateIndex
CREATE UNIQUE INDEX "invitation_token_hash_key" ON "invitation"("token_hash");

-- CreateIndex
CREATE INDEX "invitation_project_id_idx" ON "invitation"("project_id");

-- CreateIndex
CREATE UNIQUE INDEX "opening_project_id_ordinal_key" ON "opening"("project_id", "ordinal");

-- CreateIndex
CREATE INDEX "item_project_id_id_idx" ON "item"("project_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "item_opening_id_kind_key_key" ON "item"("opening_id", "kind", "key");

-- CreateIndex
CREATE INDEX "version_project_id_created_at_idx" ON "version"("project_id", "created_at");

-- CreateIndex
CREATE UNIQUE INDEX "version_item_id_number_key" ON "version"("item_id", "number");

-- CreateIndex
CREATE UNIQUE INDEX "draft_person_id_item_id_key" ON "draft"("person_id", "item_id");

-- CreateIndex
CREATE UNIQUE INDEX "submission_opening_id_number_key" ON "submission"("opening_id", "number");

-- CreateIndex
CREATE INDEX "submission_entry_version_id_idx" ON "submission_entry"("version_id");

-- CreateIndex
CREATE INDEX "mark_project_id_at_idx" ON "mark"("project_id", "at");

-- CreateIndex
CREATE UNIQUE INDEX "mark_version_id_number_key" ON "mark"("version_id", "number");

-- CreateIndex
CREATE UNIQUE INDEX "approved_set_opening_id_number_key" ON "approved_set"("opening_id", "number");

-- CreateIndex
CREATE INDEX "set_entry_version_id_idx" ON "set_entry"("version_id");

-- CreateIndex
CREATE INDEX "question_project_id_item_id_idx" ON "question"("project_id", "item_id");

-- CreateIndex
CREATE INDEX "question_thread_id_idx" ON "question"("thread_id");

-- CreateIndex
CREATE INDEX "check_project_id_idx" ON "check"("project_id");

-- CreateIndex
CREATE UNIQUE INDEX "check_set_id_key_key" ON "check"("set_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "visit_opening_id_number_key" ON "visit"("opening_id", "number");

-- CreateIndex
CREATE INDEX "finding_check_id_idx" ON "finding"("check_id");

-- CreateIndex
CREATE INDEX "finding_project_id_idx" ON "finding"("project_id");

-- CreateIndex
CREATE UNIQUE INDEX "finding_visit_id_client_key_key" ON "finding"("visit_id", "client_key");

-- CreateIndex
CREATE INDEX "correction_answer_finding_id_idx" ON "correction_answer"("finding_id");

-- CreateIndex
CREATE INDEX "attachment_project_id_uploaded_at_idx" ON "attachment"("project_id", "uploaded_at");

-- CreateIndex
CREATE INDEX "attachment_sha256_idx" ON "attachment"("sha256");

-- CreateIndex
CREATE INDEX "attachment_link_project_id_subject_subject_id_idx" ON "attachment_link"("project_id", "subject", "subject_id");

-- AddForeignKey
ALTER TABLE "session" ADD CONSTRAINT "session_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "membership" ADD CONSTRAINT "membership_project_id_fkey" FOREIGN KEY ("project_id") REFERENCES "project"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "membership" ADD CONSTRAINT "membership_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "invitation" ADD CONSTRAINT "invitation_project_id_fkey" FOREIGN KEY ("project_id") REFERENCES "project"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "invitation" ADD CONSTRAINT "invitation_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "opening" ADD CONSTRAINT "opening_project_id_fkey" FOREIGN KEY ("project_id") REFERENCES "project"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "item" ADD CONSTRAINT "item_project_id_fkey" FOREIGN KEY ("project_id") REFERENCES "project"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "item" ADD CONSTRAINT "item_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "version" ADD CONSTRAINT "version_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "version" ADD CONSTRAINT "version_author_id_fkey" FOREIGN KEY ("author_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "draft" ADD CONSTRAINT "draft_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "draft" ADD CONSTRAINT "draft_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "submission_entry" ADD CONSTRAINT "submission_entry_submission_id_fkey" FOREIGN KEY ("submission_id") REFERENCES "submission"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "submission_entry" ADD CONSTRAINT "submission_entry_version_id_fkey" FOREIGN KEY ("version_id") REFERENCES "version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "mark" ADD CONSTRAINT "mark_version_id_fkey" FOREIGN KEY ("version_id") REFERENCES "version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "mark" ADD CONSTRAINT "mark_by_id_fkey" FOREIGN KEY ("by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "approved_set" ADD CONSTRAINT "approved_set_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "set_entry" ADD CONSTRAINT "set_entry_set_id_fkey" FOREIGN KEY ("set_id") REFERENCES "approved_set"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "set_entry" ADD CONSTRAINT "set_entry_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "set_entry" ADD CONSTRAINT "set_entry_version_id_fkey" FOREIGN KEY ("version_id") REFERENCES "version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "set_entry" ADD CONSTRAINT "set_entry_mark_id_fkey" FOREIGN KEY ("mark_id") REFERENCES "mark"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "question" ADD CONSTRAINT "question_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "question" ADD CONSTRAINT "question_version_id_fkey" FOREIGN KEY ("version_id") REFERENCES "version"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "event" ADD CONSTRAINT "event_project_id_fkey" FOREIGN KEY ("project_id") REFERENCES "project"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "check" ADD CONSTRAINT "check_set_id_fkey" FOREIGN KEY ("set_id") REFERENCES "approved_set"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "check" ADD CONSTRAINT "check_version_id_fkey" FOREIGN KEY ("version_id") REFERENCES "version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit" ADD CONSTRAINT "visit_opening_id_fkey" FOREIGN KEY ("opening_id") REFERENCES "opening"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit" ADD CONSTRAINT "visit_set_id_fkey" FOREIGN KEY ("set_id") REFERENCES "approved_set"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit_closing" ADD CONSTRAINT "visit_closing_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "finding" ADD CONSTRAINT "finding_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "finding" ADD CONSTRAINT "finding_check_id_fkey" FOREIGN KEY ("check_id") REFERENCES "check"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "correction_answer" ADD CONSTRAINT "correction_answer_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "attachment" ADD CONSTRAINT "attachment_project_id_fkey" FOREIGN KEY ("project_id") REFERENCES "project"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "attachment_link" ADD CONSTRAINT "attachment_link_attachment_id_fkey" FOREIGN KEY ("attachment_id") REFERENCES "attachment"("id") ON DELETE RESTRICT ON UPDATE CASCADE;


-- ── What Prisma cannot express ──────────────────────────────────────────────────────────────────────────

-- The record is added to, never changed: the database refuses UPDATE, DELETE and TRUNCATE, whoever asks.
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'rows of % are never changed or removed', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END;
$$;

DO $$
DECLARE
  name text;
BEGIN
  FOREACH name IN ARRAY ARRAY[
    'version', 'mark', 'submission', 'submission_entry', 'approved_set', 'set_entry', 'question', 'event',
    'check', 'visit', 'visit_closing', 'finding', 'correction_answer', 'attachment_link'
  ] LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()',
                   name || '_immutable', name);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()',
                   name || '_kept', name);
  END LOOP;
END;
$$;

-- An attachment's bytes, type and origin stand; only what the owner may see of it moves.
CREATE FUNCTION refuse_attachment_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE'
     AND (to_jsonb(NEW) - 'shared_with_owner') = (to_jsonb(OLD) - 'shared_with_owner') THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION 'attachments are never changed or removed' USING ERRCODE = 'restrict_violation';
END;
$$;
CREATE TRIGGER attachment_immutable BEFORE UPDATE OR DELETE ON attachment
  FOR EACH ROW EXECUTE FUNCTION refuse_attachment_change();
CREATE TRIGGER attachment_kept BEFORE TRUNCATE ON attachment
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- A person has one role at a time in a project.
CREATE UNIQUE INDEX membership_one_active ON membership (project_id, person_id) WHERE revoked_at IS NULL;

-- One set of criteria for a project (the unique key above does not bind a null opening).
CREATE UNIQUE INDEX item_project_key ON item (project_id, kind, key) WHERE opening_id IS NULL;

ALTER TABLE version ADD CONSTRAINT version_number_positive CHECK (number > 0);
ALTER TABLE version ADD CONSTRAINT version_hash_form CHECK (hash ~ '^[0-9a-f]{64}$' AND calculation_hash ~ '^[0-9a-f]{64}$');
ALTER TABLE mark ADD CONSTRAINT mark_reason_given CHECK (word NOT IN ('returned', 'withdrawn') OR length(trim(reason)) > 0);
ALTER TABLE finding ADD CONSTRAINT finding_reason_given CHECK (result = 'pass' OR length(trim(reason)) > 0);
ALTER TABLE event ADD CONSTRAINT event_hash_form CHECK (hash ~ '^[0-9a-f]{64}$');
ALTER TABLE attachment ADD CONSTRAINT attachment_hash_form CHECK (sha256 ~ '^[0-9a-f]{64}$');
