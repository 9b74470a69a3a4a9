-- AlterTable
ALTER TABLE "phone_finding" ADD COLUMN "sheet_id" UUID, ADD COLUMN "square" TEXT NOT NULL DEFAULT '';

-- AddForeignKey
ALTER TABLE "phone_finding" ADD CONSTRAINT "phone_finding_sheet_id_fkey" FOREIGN KEY ("sheet_id") REFERENCES "attachment"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- A place is on a sheet: the one without the other says nothing.
ALTER TABLE phone_finding ADD CONSTRAINT phone_finding_square_on_sheet CHECK ((sheet_id IS NULL) = (square = ''));
