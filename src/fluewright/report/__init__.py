"""Everything that was found, as a report for one kind of reader: a tree, without layout.

`whole` builds it; what it needs is in `inputs`, what it is made of in `tree`. Nothing is imported
here: a judgement printed as text needs the small sentences alone, and should not wait for the rest.
"""
