-- Which clock hangs in the house, as an IANA name. Of houses that were there before nobody told it: UTC.
ALTER TABLE "project" ADD COLUMN "time_zone" TEXT NOT NULL DEFAULT 'UTC';
ALTER TABLE "project" ADD CONSTRAINT "project_time_zone_named" CHECK ("time_zone" <> '');
