-- What a foot of one ply costs a person; nobody else reads it.
CREATE TABLE "price" (
    "person_id" UUID NOT NULL,
    "piece" TEXT NOT NULL,
    "cents_per_foot" INTEGER NOT NULL CHECK ("cents_per_foot" > 0),
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "price_pkey" PRIMARY KEY ("person_id", "piece")
);

ALTER TABLE "price" ADD CONSTRAINT "price_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE CASCADE;
