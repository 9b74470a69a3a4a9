-- Addresses outside that are told of what happened in a project, and each telling.
CREATE TABLE "webhook" (
    "id" UUID NOT NULL,
    "project_id" UUID NOT NULL,
    "url" TEXT NOT NULL,
    "event_kinds" TEXT[] NOT NULL CHECK (cardinality("event_kinds") > 0),
    "sealed_secret" TEXT NOT NULL,
    "made_by_id" UUID NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "ended_at" TIMESTAMPTZ(3),

    CONSTRAINT "webhook_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "webhook_project_id_idx" ON "webhook"("project_id");

CREATE TYPE "webhook_call_state" AS ENUM ('ready', 'claimed', 'taken', 'given_up', 'dropped');

CREATE TABLE "webhook_call" (
    "id" UUID NOT NULL,
    "webhook_id" UUID NOT NULL,
    "project_id" UUID NOT NULL,
    "seq" INTEGER NOT NULL,
    "state" "webhook_call_state" NOT NULL DEFAULT 'ready',
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "round" INTEGER NOT NULL DEFAULT 1,
    "claimed_at" TIMESTAMPTZ(3),
    "settled_at" TIMESTAMPTZ(3),
    "problem" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "webhook_call_pkey" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "webhook_call_webhook_id_seq_key" ON "webhook_call"("webhook_id", "seq");
CREATE INDEX "webhook_call_state_created_at_idx" ON "webhook_call"("state", "created_at");

ALTER TABLE "webhook" ADD CONSTRAINT "webhook_project_id_fkey" FOREIGN KEY ("project_id") REFERENCES "project"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "webhook" ADD CONSTRAINT "webhook_made_by_id_fkey" FOREIGN KEY ("made_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "webhook_call" ADD CONSTRAINT "webhook_call_webhook_id_fkey" FOREIGN KEY ("webhook_id") REFERENCES "webhook"("id") ON DELETE CASCADE ON UPDATE CASCADE;

ALTER TABLE "webhook_call" ADD CONSTRAINT "webhook_call_settled_once"
  CHECK (("settled_at" IS NOT NULL) = ("state" IN ('taken', 'given_up', 'dropped')));

-- Told at commit, as letters are.
CREATE TRIGGER "webhook_call_told" AFTER INSERT ON "webhook_call" FOR EACH STATEMENT EXECUTE FUNCTION tell_outbox();
