"""What people read: rows, each with a pure function that makes them from a :class:`Study`.

=======================  ==================================================================
``queue.queue_rows``     workshop jobs in order of start
``gallery.gallery_rows`` what to do in the galleries, and :func:`gallery.untreated_rows`
``queue.running_rows``   work that goes on
``safety.safety_rows``   doubtful safety elements; they head every list
``bays.bay_lanes``       spaces and hall floors over the months, and ``bays.closed_spans``
``hours.hours_rows``     each trade's planned hours against what there is
``object_page.object_page`` one object's past, forecast, findings, hazards and plan
``standing.standing``    how good the plan is, in one sentence
``notes.note_rows``      what was left out, shortened or set aside, and why
=======================  ==================================================================
"""
