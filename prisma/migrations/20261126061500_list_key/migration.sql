-- The order of keys within a kind: letters as in a dictionary, so that what is at the front comes before what is at the
-- rear and left before right, and the number at the end by its value, so that N2 comes before N10.
CREATE FUNCTION list_key(key text) RETURNS text LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
  SELECT regexp_replace(key, '[0-9]+$', '') || coalesce(lpad(substring(key FROM '[0-9]+$'), 40, '0'), '')
$$;

DROP INDEX item_opening_list;
DROP INDEX item_project_list;
CREATE INDEX item_opening_list ON item (opening_id, kind, list_key(key), key, id);
CREATE INDEX item_project_list ON item (project_id, kind, list_key(key), key, id);
