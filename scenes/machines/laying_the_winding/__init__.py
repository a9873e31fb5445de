"""A winding laid coil by coil: in the slots of the bore and on the unrolled drawing, rightly or wrongly, and fed."""
