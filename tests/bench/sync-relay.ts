/**
 * A plain relay, the limit to measure against: each frame goes to the others of its room and nothing else is done. A room
 * whose name begins with `doc-` answers a step 1 with the document in the file `DOC_FILE`, unread.
 */
import { readFileSync } from 'node:fs';
import { WebSocket, WebSocketServer } from 'ws';
import { message } from '../server/raw-client.ts';

const answer = process.env.DOC_FILE ? message(0, 1, readFileSync(process.env.DOC_FILE)) : null;
const rooms = new Map<string, Set<WebSocket>>();
const server = new WebSocketServer({
  host: '127.0.0.1',
  port: Number(process.env.PORT),
  perMessageDeflate: false,
});
server.on('connection', (socket, request) => {
  const name = request.url ?? '/';
  const room = rooms.get(name) ?? new Set();
  rooms.set(name, room);
  room.add(socket);
  const isDocument = answer !== null && name.includes('/doc-');
  socket.on('message', (data: Buffer) => {
    if (isDocument && data[0] === 0 && data[1] === 0) {
      socket.send(answer);
      return;
    }
    for (const other of room) if (other !== socket && other.readyState === WebSocket.OPEN) other.send(data);
  });
  socket.on('error', () => {});
  socket.on('close', () => {
    room.delete(socket);
    if (room.size === 0) rooms.delete(name);
  });
});
