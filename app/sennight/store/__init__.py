"""The practice file: an SQLite database of records that only grows.

`tables` has the rows, one module beside it per aggregate the mapping to domain values and the
repository, `unit` the transaction of a use case, `files` the opening, `migrating` the schema,
`backups` the verified copies.

Nothing a practitioner saved is overwritten: clients, remedies, protocols, courses and the
practice card keep every version, diary and scores every entry, revisions and publications
stand for good. A head row (`client`, `course` …) says which version is the current one.
"""
