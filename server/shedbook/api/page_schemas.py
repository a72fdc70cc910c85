"""How a page of the log in columns is described; shedbook.sync.columns says it at length."""

from marshmallow import Schema, fields


class TableSchema(Schema):
    names = fields.List(fields.String(), required=True)
    subjects = fields.List(fields.String(), required=True)
    details = fields.List(fields.String(), required=True)
    columns = fields.List(
        fields.Raw(),
        required=True,
        metadata={
            "description": "Of `names`, then of `subjects`, then of `details`. A column is the "
            "list of its values, row by row; or an object: `same` is the value of every row; each "
            "row's value is the one of `values` at the place that `at` names, or `prefix` and its "
            "own of `rest`; or the column says what the one at the place `as` of this list does."
        },
    )


class ColumnsSchema(Schema):
    first = fields.Integer(
        required=True,
        metadata={"description": "The `seq` of the first entry; each further one has the next."},
    )
    order = fields.List(
        fields.Integer(),
        required=True,
        metadata={"description": "For each entry the table whose next row it is."},
    )
    tables = fields.List(
        fields.Nested(TableSchema),
        required=True,
        metadata={"description": "Each of entries that have the same names."},
    )
