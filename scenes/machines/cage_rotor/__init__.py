"""A cage in a rotating field: what each bar generates, carries and is pushed with."""
