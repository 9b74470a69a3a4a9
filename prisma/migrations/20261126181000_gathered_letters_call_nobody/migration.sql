-- A letter that was gathered from lines has its job from whoever gathered it, and from the sweep where that process
-- ended before: to call the gathering for it would only have it look once more. Others go at once.
DROP TRIGGER letter_told ON letter;
CREATE TRIGGER letter_told AFTER INSERT ON letter FOR EACH ROW
  WHEN (NEW.kind NOT IN ('news', 'daily')) EXECUTE FUNCTION tell_outbox();
