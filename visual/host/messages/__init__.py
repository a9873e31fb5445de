"""Messages on the socket, both ways: their names and the types of their fields.

`page/common/messages.js` says the same for the page; `tests/visual/host/test_messages.py` holds the two together.

Every message is one JSON object. A page's is a `Request`, flat: its name under "do" beside its fields. In the bench's, each key of
`Published` *replaces* its earlier value, so a page that joins late needs only the newest value of every key (`stream` and `chart`
accumulate).

A page's role is that of its endpoint (`endpoints.Endpoint`, `viewer.role`). "bench" may send every request, and so may "speaker", a
lesson's second page. "still" is drawn once and posts its picture. "visitor" uses an exhibit; the exhibit says what it may send, and
tells "status" how it goes. "class" follows on the network, may send `Answer`, and alone is sent `vote`. In a marked test "trainee" is a
trainee's page, which may send `Begin` and `Answer` and is sent what is its own alone, and "instructor" the page of who holds it.
"""

# all of them, so that a new message is added in one place
# ruff: noqa: F403
from visual.host.messages.bench import *
from visual.host.messages.exhibit import *
from visual.host.messages.lesson import *
from visual.host.messages.marked import *
from visual.host.messages.picture import *
from visual.host.messages.published import *
from visual.host.messages.requests import *
from visual.host.messages.scene import *
from visual.host.messages.sharing import *
from visual.host.messages.values import *
