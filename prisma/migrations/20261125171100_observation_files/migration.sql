-- Which row of what it hangs on a file belongs to: an observation of a survey, by its name; '' for the whole.
ALTER TABLE "attachment_link" ADD COLUMN "part" TEXT NOT NULL DEFAULT '';
ALTER TABLE "upload" ADD COLUMN "part" TEXT NOT NULL DEFAULT '';
